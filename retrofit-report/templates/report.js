"use strict";
// Ties the sketch to what was found. Everything stands on the page without it, and every way it opens is a link too.
(() => {
  const tied = [...document.querySelectorAll("[data-line]")];
  const show = (line, on) => {
    for (const one of tied) if (one.dataset.line === line) one.classList.toggle("pointed", on);
  };
  for (const one of tied) {
    const line = one.dataset.line;
    const shape = one.closest("svg");
    // A shape that listens for the focus would take it, and a keyboard would stop where there is nothing to do.
    const listen = (events, on) => events.slice(0, shape ? 1 : 2).forEach((event) => one.addEventListener(event, () => show(line, on)));
    listen(["pointerenter", "focusin"], true);
    listen(["pointerleave", "focusout"], false);
    if (shape) one.addEventListener("click", () => { location.hash = "line-" + line; });
  }
  for (const row of document.querySelectorAll(".unfold")) {
    const folded = [...row.closest("section").querySelectorAll("details")];
    const button = row.querySelector("button");
    const [unfold, fold] = [button.textContent, button.dataset.fold];
    button.addEventListener("click", () => {
      const open = button.textContent === unfold;
      for (const one of folded) one.open = open;
      button.textContent = open ? fold : unfold;
    });
    row.hidden = false;
  }
})();
