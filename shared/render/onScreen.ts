/** The button that opens a scene or a figure on screen. Its name is said with the title of what it opens. */

/** What can be shown: `scene:meeting`, `figure:crush`, as in the text of a lesson. */
export type PartName = `${"scene" | "figure"}:${string}`;

export const renderOnScreen = (part: PartName, id: string): string =>
  `<on-screen data-part="${part}"><button type="button" class="open" id="${id}-screen" aria-haspopup="dialog" aria-labelledby="${id}-screen ${id}-title">On screen</button></on-screen>`;
