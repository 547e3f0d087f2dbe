// What is wrong with a drawing that is opened as a file of its own, one text each.
(() => {
  const root = document.documentElement, found = [], say = (what) => found.push(what);
  if (!root || root.tagName !== "svg" || document.querySelector("parsererror")) return ["is not a drawing that opens"];
  const box = root.getBoundingClientRect();
  if (!(box.width > 300 && box.height > 200)) say(`is ${box.width} by ${box.height} px`);
  if (!root.querySelector("title") || !root.querySelector("desc")) say("does not say what it is");
  if (root.querySelectorAll("path,rect,circle").length < 5 || root.querySelectorAll("text").length < 5) say("shows hardly anything");
  if (root.querySelector("script,image,use[href^=http],foreignObject")) say("is not a drawing by itself");
  return found;
})()
