/** Ids: each once a page. Headings take theirs from their text. */
export class Ids {
  readonly #taken = new Set<string>();
  /** `base`, or `base-2`, `base-3` … where it is taken. */
  take(base: string): string {
    let id = base;
    for (let n = 2; this.#taken.has(id); n++) id = `${base}-${n}`;
    this.#taken.add(id);
    return id;
  }
  has(id: string): boolean {
    return this.#taken.has(id);
  }
  all(): string[] {
    return [...this.#taken];
  }
}

export const anchorOf = (text: string): string =>
  text
    .normalize("NFKD")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "") || "section";
