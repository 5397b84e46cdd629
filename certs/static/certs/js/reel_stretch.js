/* Fills in the metres of a stretch from the drawing of a reel: by drawing along it, or by pressing
   two places on its scale. A press on a piece still opens its story, and the keyboard is told which
   piece it is at. */
"use strict";

(() => {
  const SLIP = 5;
  const NEAR = 6;

  const asMetres = (mm) => (mm / 1000).toFixed(3).replace(/\.?0+$/, "");

  const prepare = (svg, figure, form) => {
    const bars = [...svg.querySelectorAll("rect[data-from-mm]")];
    if (!bars.length) return;
    const value = (bar, name) => Number(bar.getAttribute(name));
    // The widest stretch has the truest scale: very short ones are drawn wider than they are.
    const widest = bars.reduce((a, b) => (value(b, "width") > value(a, "width") ? b : a));
    const perUnit = (widest.dataset.toMm - widest.dataset.fromMm) / value(widest, "width");
    const ends = bars.flatMap((bar) => [Number(bar.dataset.fromMm), Number(bar.dataset.toMm)]);
    const length = Math.max(...ends);
    const [from, to] = [form.elements.from_mm, form.elements.to_mm];
    const picked = document.createElementNS("http://www.w3.org/2000/svg", "rect");
    picked.setAttribute("class", "draw-picked");
    picked.setAttribute("y", value(widest, "y") - 4);
    picked.setAttribute("height", value(widest, "height") + 8);
    picked.setAttribute("width", 0);
    svg.append(picked);
    let start = null;
    let first = null;
    let drawn = false;

    const metre = (event) => {
      const x = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse()).x;
      const mm = Number(widest.dataset.fromMm) + (x - value(widest, "x")) * perUnit;
      const close = ends.find((end) => Math.abs(end - mm) < NEAR * perUnit);
      return Math.min(Math.max(close ?? Math.round(mm / 100) * 100, 0), length);
    };
    const show = (a, b) => {
      const [low, high] = [Math.min(a, b), Math.max(a, b)];
      picked.setAttribute("x", value(widest, "x") + (low - widest.dataset.fromMm) / perUnit);
      picked.setAttribute("width", (high - low) / perUnit);
      from.value = asMetres(low);
      to.value = asMetres(high);
    };

    svg.addEventListener("dragstart", (event) => event.preventDefault());
    svg.addEventListener("pointerdown", (event) => {
      if (event.button !== 0) return;
      start = { x: event.clientX, mm: metre(event) };
      drawn = false;
    });
    svg.addEventListener("pointermove", (event) => {
      if (!start || (!drawn && Math.abs(event.clientX - start.x) < SLIP)) return;
      if (!drawn) svg.setPointerCapture(event.pointerId);
      drawn = true;
      show(start.mm, metre(event));
    });
    svg.addEventListener("pointerup", () => { start = null; });
    svg.addEventListener("pointercancel", () => { start = null; });
    svg.addEventListener("click", (event) => {
      if (drawn) {
        // A line was drawn: the piece under its end is not what was meant.
        event.preventDefault();
        drawn = false;
        first = null;
        return;
      }
      if (event.target.closest("a")) return;
      const at = metre(event);
      show(first ?? at, at);
      if (first === null) to.value = "";
      first = first === null ? at : null;
    }, true);
    // Most stretches are too short for a label: the one with the focus is named under the drawing.
    const hint = figure.querySelector(".key-hint");
    if (hint) {
      const usual = hint.textContent;
      svg.parentElement.addEventListener("focusin", (event) => {
        const title = event.target.closest("a")?.querySelector("title");
        if (title) hint.textContent = `${title.textContent}. Enter opens its story.`;
      });
      svg.parentElement.addEventListener("focusout", () => { hint.textContent = usual; });
    }
    figure.classList.add("is-walked");
    svg.classList.add("can-be-drawn-on");
    form.classList.add("is-drawn-on");
  };

  for (const form of document.querySelectorAll("form[data-drawing]")) {
    const figure = document.getElementById(form.dataset.drawing);
    if (figure) figure.querySelectorAll("svg.drawing").forEach((svg) => prepare(svg, figure, form));
  }
})();
