/** Puts a popover beside what opened it, inside the window. Positions are set on the object, never as a style attribute in HTML. */

const GAP = 8;
/** What finds no room on either side takes so much of the window's height all the same, over what opened it; lines are short where the window is narrow. */
const SHARE = { narrow: 0.7, wide: 0.3 };
const NARROW = 704;

export const placePopover = (popover: HTMLElement, opener: HTMLElement, changed: (open: boolean) => void): void => {
  const place = (): void => {
    popover.style.maxHeight = "";
    const at = opener.getBoundingClientRect();
    const { offsetWidth: width, offsetHeight: height } = popover;
    const below = innerHeight - at.bottom - 2 * GAP;
    const above = at.top - 2 * GAP;
    const room = Math.max(below, above);
    const under = height <= below || below >= above;
    const shown = Math.min(height, Math.max(room, SHARE[innerWidth < NARROW ? "narrow" : "wide"] * innerHeight));
    const top = under ? Math.min(at.bottom + GAP, innerHeight - GAP - shown) : Math.max(GAP, at.top - GAP - shown);
    popover.style.maxHeight = `${shown}px`;
    popover.style.left = `${Math.max(GAP, Math.min(at.left, innerWidth - width - GAP))}px`;
    popover.style.top = `${top}px`;
  };
  // Filled before it shows, emptied only when it is gone: what has the focus in it may not vanish under it.
  popover.addEventListener("beforetoggle", (event) => {
    if ((event as ToggleEvent).newState === "open") changed(true);
  });
  popover.addEventListener("toggle", (event) => {
    const open = (event as ToggleEvent).newState === "open";
    if (!open) changed(false);
    popover.classList.toggle("placed", open);
    if (open) place();
  });
};
