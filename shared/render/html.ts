/** Text to HTML. Nothing the page shows goes in without passing here. */

const ENTITIES: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;" };

export const escape = (text: string | number): string => String(text).replace(/[&<>"']/g, (character) => ENTITIES[character] as string);

/** First letter large, for a label that opens a sentence. */
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** "closingSpeed" as words. */
export const spaced = (name: string): string => name.replace(/([a-z0-9])([A-Z])/g, "$1 $2").toLowerCase();
