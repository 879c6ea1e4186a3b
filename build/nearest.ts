/** The nearest right name, for messages. */

/** Edits (insert, drop, change, swap of neighbours) between two words. */
const edits = (a: string, b: string): number => {
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const now = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = (last[j - 1] as number) + (a[i - 1] === b[j - 1] ? 0 : 1);
      let least = Math.min(change, (last[j] as number) + 1, (now[j - 1] as number) + 1);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) least = Math.min(least, (before[j - 2] as number) + 1);
      now.push(least);
    }
    before = last;
    last = now;
  }
  return last[b.length] as number;
};

/** Longer words are not compared: a name is short, and hostile input must not cost time. */
const LONGEST = 80;

export const nearestName = (name: string, names: readonly string[]): string | undefined => {
  if (name.length > LONGEST) return undefined;
  const ranked = names.map((n) => ({ n, far: edits(name.toLowerCase(), n.toLowerCase()) })).sort((p, q) => p.far - q.far || (p.n < q.n ? -1 : 1));
  const best = ranked[0];
  return best && best.far <= Math.max(2, Math.floor(best.n.length / 2)) ? best.n : undefined;
};

/** "; nearest is x" or the whole list, for the end of a message. */
export const wayOut = (name: string, names: readonly string[]): string => {
  const near = nearestName(name, names);
  if (near !== undefined) return `; the nearest is ${near}`;
  return names.length === 0 ? "; there are none" : `; there are ${names.slice(0, 12).join(", ")}${names.length > 12 ? ", …" : ""}`;
};
