/** The place that an address leads to: `#answer`, or beside a state `#massA=900&page.place=answer`. It may wait behind a question. */
import { PLACE_KEY } from "../state/link.ts";
import type { Session } from "../state/session.ts";

let stop: (() => void) | undefined;

const goTo = (id: string): boolean => {
  const element = document.getElementById(id);
  if (element === null) return false;
  const within = element.matches("[tabindex]") ? element : element.querySelector<HTMLElement>("button, input, select, a, [tabindex]");
  within?.focus({ preventScroll: true });
  element.scrollIntoView({ block: "center" });
  return true;
};

/** Goes there now, or as soon as the question is answered that keeps it back. */
export const goToPlace = (hash: string, session: Session): void => {
  stop?.();
  stop = undefined;
  const id = new URLSearchParams(hash.includes("=") ? hash.slice(1) : `${PLACE_KEY}=${hash.slice(1)}`).get(PLACE_KEY) ?? "";
  if (id === "" || goTo(id)) return;
  // With the next frame: the answer is in its place by then, and what the question itself does with the focus is done.
  stop = session.subscribe(() => requestAnimationFrame(() => void (stop !== undefined && goTo(id) && (stop(), (stop = undefined)))));
};
