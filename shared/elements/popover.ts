/** Puts a popover beside what opened it, inside the window. Positions are set on the object, never as a style attribute in HTML. */

const GAP = 8;

export const placePopover = (popover: HTMLElement, opener: HTMLElement, changed: (open: boolean) => void): void => {
  const place = (): void => {
    const at = opener.getBoundingClientRect();
    const { offsetWidth: width, offsetHeight: height } = popover;
    const left = Math.max(GAP, Math.min(at.left, innerWidth - width - GAP));
    const below = at.bottom + GAP;
    const top = below + height <= innerHeight - GAP ? below : Math.max(GAP, Math.min(at.top - height - GAP, innerHeight - height - GAP));
    popover.style.left = `${left}px`;
    popover.style.top = `${top}px`;
  };
  popover.addEventListener("toggle", (event) => {
    const open = (event as ToggleEvent).newState === "open";
    changed(open);
    popover.classList.toggle("placed", open);
    if (open) place();
  });
};
