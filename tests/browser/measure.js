// What is wrong with the page at the width at which it is shown, one text each; folded up or not.
(() => {
  // Text that runs out of one of these runs over what stands beside it.
  const HOLDS = ["TD", "TH", "P", "LI", "DD", "DT", "SUMMARY", "CAPTION", "FIGCAPTION", "H1", "H2", "H3"];
  const found = [], say = (what) => found.push(what);
  const name = (e) => e.tagName.toLowerCase() + (e.className && e.className.baseVal === undefined ? "." + e.className : "") + " «" + (e.textContent || "").trim().slice(0, 40) + "»";
  const root = document.documentElement, width = innerWidth;
  if (root.scrollWidth > width) say(`scrolls sideways, ${root.scrollWidth} px wide`);
  for (const e of document.querySelectorAll("body *")) {
    const box = e.getBoundingClientRect();
    if (box.width && box.right > width + 1 && !e.closest("svg")) { say(`${name(e)} ends at ${Math.round(box.right)} px`); break; }
    if (box.width && box.left < -1 && box.right > 0) { say(`${name(e)} begins at ${Math.round(box.left)} px`); break; }
    if (HOLDS.includes(e.tagName) && e.clientWidth && e.scrollWidth > e.clientWidth + 1) { say(`${name(e)} does not hold its text`); break; }
    if (e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).overflowX === "hidden") { say(`${name(e)} is clipped`); break; }
  }
  for (const svg of document.querySelectorAll("svg")) {
    const words = [...svg.querySelectorAll("text")].map((t) => [t, t.getBoundingClientRect()]);
    const edge = svg.getBoundingClientRect();
    for (const [t, a] of words) {
      if (a.left < edge.left - 1 || a.right > edge.right + 1 || a.top < edge.top - 1 || a.bottom > edge.bottom + 1) say(`${name(t)} leaves its drawing`);
      for (const [u, b] of words) if (t !== u && a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 1 && b.top < a.bottom - 1) say(`${name(t)} overlaps ${name(u)}`);
    }
  }
  if (!document.title) say("has no title");
  if (!root.lang) say("has no language");
  if (document.querySelectorAll("h1").length !== 1) say("does not have one h1");
  let level = 0;
  for (const h of document.querySelectorAll("h1,h2,h3,h4,h5,h6")) { const n = +h.tagName[1]; if (n > level + 1) say(`skips from h${level} to ${name(h)}`); level = n; }
  for (const t of document.querySelectorAll("table")) { if (!t.caption && !document.getElementById(t.getAttribute("aria-labelledby"))) say("a table without a caption or a heading that names it"); if (!t.querySelector("th[scope]")) say("a table without scoped heads"); }
  for (const s of document.querySelectorAll("svg")) if (s.getAttribute("role") !== "img" && !s.closest("[aria-hidden=true]")) say("a drawing without role=img");
  for (const a of document.querySelectorAll("a[href^='#']")) if (!document.getElementById(a.getAttribute("href").slice(1))) say(`${name(a)} leads nowhere`);
  if (document.querySelector("script[src],link,img:not([src^='data:']),iframe")) say("is not a page by itself");
  if (document.querySelectorAll("script").length > 1) say("has a script besides its own");
  const policy = document.querySelector("meta[http-equiv=Content-Security-Policy]");
  if (!policy || !policy.content.startsWith("default-src 'none';")) say("has no policy against the network");
  for (const r of performance.getEntriesByType("resource")) say(`fetches ${r.name}`);
  const ids = new Set();
  for (const e of document.querySelectorAll("[id]")) { if (ids.has(e.id)) say(`two elements with the id ${e.id}`); ids.add(e.id); }
  return found;
})()
