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

const ranked = (name: string, names: readonly string[]): { readonly n: string; readonly far: number; readonly shared: number }[] => {
  const parts = (text: string): string[] => text.toLowerCase().split(/[^a-z0-9]+/).filter((part) => part !== "");
  const own = parts(name);
  return names
    .map((n) => ({ n, far: edits(name.toLowerCase(), n.toLowerCase()), shared: parts(n).filter((part) => own.includes(part)).length }))
    .sort((p, q) => p.far - q.far || (p.n < q.n ? -1 : 1));
};

export const nearestName = (name: string, names: readonly string[]): string | undefined => {
  if (name.length > LONGEST) return undefined;
  const best = ranked(name, names)[0];
  return best && best.far <= Math.max(2, Math.floor(best.n.length / 2)) ? best.n : undefined;
};

/** With none near enough, those that share most words with it come first. */
const nearFirst = (name: string, names: readonly string[]): readonly string[] => {
  if (name.length > LONGEST || name === "") return names;
  const all = ranked(name, names);
  return all.some(({ shared }) => shared > 0) ? all.sort((p, q) => q.shared - p.shared || p.far - q.far).map(({ n }) => n) : names;
};

/** "; nearest is x" or the whole list, for the end of a message. */
export const wayOut = (name: string, names: readonly string[]): string => {
  const near = nearestName(name, names);
  if (near !== undefined) return `; the nearest is ${near}`;
  return names.length === 0 ? "; there are none" : `; there are ${nearFirst(name, names).slice(0, 12).join(", ")}${names.length > 12 ? ", …" : ""}`;
};
