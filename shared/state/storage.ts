/**
 * What a page keeps in the browser, under the names below and no others; DEVELOPERS.md lists them. Storage may be forbidden, or full,
 * as for a file opened from disk: then everything lives as long as the page.
 */

/** A reader's own table, until it is the lesson's again. */
export const tableKey = (slug: string, table: string): string => `ridedown.table.${slug}.${table}`;
/** The answer to the prediction `gate`, empty for "Just show me": as long as the tab is open. */
export const answerKey = (slug: string, gate: string): string => `ridedown.answer.${slug}.${gate}`;

export interface Store {
  readonly read: (key: string) => string | null;
  readonly write: (key: string, text: string | null) => void;
}

/** `storage` is asked for each time: a browser may refuse even to name it. */
export const storeIn = (storage: () => Storage): Store => ({
  read: (key) => {
    try {
      return storage().getItem(key);
    } catch {
      return null;
    }
  },
  write: (key, text) => {
    try {
      if (text === null) storage().removeItem(key);
      else storage().setItem(key, text);
    } catch {
      // nothing is kept, and nothing breaks
    }
  },
});
