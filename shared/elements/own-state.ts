/** A card of a show pack may be of another state than the start: opened bare, its page goes to that state. */
export const goToOwnState = ({ dataset: { state } }: HTMLElement): void => {
  if (state !== undefined && !location.hash.includes("=")) location.replace(state);
};
