/** What the status words of sources mean, said once on a page. */
const MEANINGS: Readonly<Record<string, string>> = {
  read: "read in the text itself",
  "second-hand": "taken from a text that quotes it",
  "from memory": "not looked up again",
  "common practice": "what the trade does; no source",
  derived: "worked out here and checked by a second route",
};

export const statusMeaning = (status: string): string | undefined => MEANINGS[status];

/** The line under a list of sources: "read: …; from memory: …", for the words that occur there. */
export const statusLine = (statuses: readonly string[]): string =>
  Object.entries(MEANINGS)
    .filter(([status]) => statuses.includes(status))
    .map(([status, meaning]) => `${status}: ${meaning}`)
    .join("; ");
