/* Walks a drawn genealogy with the arrow keys: to the right and left along its lines, up and down
   within a column. One card is in the tab order at a time; without this script all of them are. */
"use strict";

(() => {
  const nearest = (cards, at) => {
    const top = (card) => card.getBoundingClientRect().top;
    return cards.sort((a, b) => Math.abs(top(a) - top(at)) - Math.abs(top(b) - top(at)))[0];
  };

  const walk = (drawing) => {
    const cards = [...drawing.querySelectorAll("a[data-key]")];
    if (!cards.length) return;
    const named = new Map(cards.map((card) => [card.dataset.key, card]));
    const along = (card, keys) => nearest((keys || "").split(" ").map((key) => named.get(key)).filter(Boolean), card);
    const left = (card) => Math.round(card.getBoundingClientRect().left);
    const beside = (card, step) => {
      const column = cards.filter((other) => Math.abs(left(other) - left(card)) < 4);
      return column[column.indexOf(card) + step];
    };
    const current = cards.find((card) => card.getAttribute("aria-current")) || cards[0];
    const enter = (card) => cards.forEach((other) => other.setAttribute("tabindex", other === card ? "0" : "-1"));
    const to = {
      ArrowRight: (card) => along(card, card.dataset.to),
      ArrowLeft: (card) => along(card, card.dataset.from),
      ArrowDown: (card) => beside(card, 1),
      ArrowUp: (card) => beside(card, -1),
      Home: () => cards[0],
      End: () => cards[cards.length - 1],
    };
    enter(current);
    // Not on the drawing itself: Chromium then takes it for something that can have the focus.
    const sheet = drawing.parentElement;
    sheet.addEventListener("keydown", (event) => {
      const card = event.target.closest("a[data-key]");
      if (!card || !(event.key in to) || event.altKey || event.ctrlKey || event.metaKey) return;
      event.preventDefault();
      const next = to[event.key](card);
      if (next) next.focus();
    });
    sheet.addEventListener("focusin", (event) => {
      const card = event.target.closest("a[data-key]");
      if (card) enter(card);
    });
    // What the reader looks at is in sight, however wide the drawing.
    const frame = drawing.closest(".scroll");
    if (frame) {
      const box = current.getBoundingClientRect();
      frame.scrollLeft += box.left + box.width / 2 - frame.getBoundingClientRect().left - frame.clientWidth / 2;
    }
  };

  for (const figure of document.querySelectorAll("#genealogy")) {
    figure.querySelectorAll("svg.drawing").forEach(walk);
    figure.classList.add("is-walked");
  }
})();
