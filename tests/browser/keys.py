"""A hand that has a keyboard and no mouse, and sees what has the focus.

Whatever comes to have the focus must be seen to have it (WCAG 2.2: 2.4.7 focus visible, 2.4.11
focus not obscured) and must let go of it again (2.1.2 no keyboard trap).
"""

LONGEST_WALK = 150

# What is wrong with whatever has the focus, as words; nothing, where nothing is. It shows by an
# outline of its own or of its label; of a drawing, also by a heavy frame of its first shape.
LOOK = """
(wanted) => {
  const at = document.activeElement;
  if (!at || at === document.body) return {nowhere: true, wrong: [], is: false};
  const name = (at.getAttribute("aria-label") || at.innerText || at.textContent || at.name || "")
    .trim().replace(/\\s+/g, " ").slice(0, 60);
  const told = {nowhere: false, wrong: [], is: wanted.includes(at)};
  told.at = `${at.localName} "${name}"`;
  const drawn = at instanceof SVGElement ? at.querySelector("rect, path") : null;
  const box = (drawn || at).getBoundingClientRect();
  const left = Math.max(box.left, 0), right = Math.min(box.right, innerWidth);
  const top = Math.max(box.top, 0), bottom = Math.min(box.bottom, innerHeight);
  if (right - left < 1 || bottom - top < 1) {
    told.wrong.push(`out of sight at ${Math.round(box.left)}, ${Math.round(box.top)}`);
    return told;
  }
  if (!at.checkVisibility({opacityProperty: true, visibilityProperty: true}))
    told.wrong.push("not drawn");
  const look = (one) => getComputedStyle(one);
  const isOutlined = (one) =>
    one && look(one).outlineStyle !== "none" && parseFloat(look(one).outlineWidth) >= 2;
  const isFramed = drawn && parseFloat(look(drawn).strokeWidth) >= 4;
  const isTold = at.matches(":focus-visible, input:focus-within");
  if (!isTold || !(isFramed || isOutlined(at) || isOutlined(at.closest("label"))))
    told.wrong.push("no outline");
  const covers = new Set();
  for (const across of [.1, .5, .9]) for (const down of [.1, .5, .9]) {
    const x = left + (right - left) * across, y = top + (bottom - top) * down;
    const on = document.elementFromPoint(x, y);
    if (!on || at.contains(on) || on.contains(at)) continue;
    for (let over = on; over; over = over.parentElement)
      if (["sticky", "fixed"].includes(getComputedStyle(over).position) && !over.contains(at))
        covers.add(over.className || over.localName);
  }
  if (covers.size) told.wrong.push(`behind ${[...covers].join(", ")}`);
  return told;
}
"""


class Keys:
    """One person at one page, without a mouse."""

    def __init__(self, page):
        self.page = page

    def press(self, *keys):
        for key in keys:
            self.page.keyboard.press(key)

    def type(self, text):
        self.page.keyboard.type(text)

    def tab_to(self, name, *, role="link", back=False, exact=True):
        """Go on with Tab until what is called so has the focus."""
        found = self.page.get_by_role(role, name=name, exact=exact)
        found.first.wait_for(state="attached")
        wanted = found.element_handles()
        for _ in range(LONGEST_WALK):
            self.press("Shift+Tab" if back else "Tab")
            if self.look(wanted)["is"]:
                return
        raise AssertionError(f"{LONGEST_WALK} times Tab do not lead to {name!r}")

    def look(self, wanted=()):
        """See what has the focus; it must be seen."""
        told = self.page.evaluate(LOOK, list(wanted))
        assert told["wrong"] == [], f"{told['at']}: {told['wrong']} on {self.page.url}"
        return told

    def enter(self, key="Enter"):
        """Press what leads to another page, and wait for it."""
        with self.page.expect_navigation():
            self.press(key)

    def walk_through(self):
        """Go through the whole page from its top until the focus leaves it; give the names."""
        names = []
        self.page.evaluate("document.activeElement.blur()")
        for _ in range(LONGEST_WALK):
            self.press("Tab")
            told = self.look()
            if told["nowhere"]:
                return names
            names.append(told["at"])
        raise AssertionError(f"the focus never leaves the page: {names[-5:]}")
