/** Opens a kept card again: is it what was frozen, and is it the one whose code was published? */
import { type Card, codeOf, FORMAT, hashOf, type KeptCard, linesOf, sealOf } from "./card.ts";

type Checked = { readonly kept: KeptCard } | { readonly question: string };

const TEXTS = ["lesson", "title", "question", "scenario", "version", "frozen", "by", "study"];
const LISTS: Readonly<Record<string, readonly string[]>> = { inputs: ["name", "label", "value", "give", "reason"], outputs: ["name", "label", "unit", "low", "likely", "high"], verdicts: ["name", "label", "answers"] };
const ANSWER = ["answer", "share"];

/** Far more than any card holds. */
const MOST_CHARACTERS = 2_000_000;

const isRecord = (value: unknown): value is Record<string, unknown> => typeof value === "object" && value !== null && !Array.isArray(value);

/** What is wrong with the keys of a part, or with a part that should be text. */
const keyFault = (value: unknown, place: string, keys: readonly string[], texts: readonly string[]): string | undefined => {
  if (!isRecord(value)) return `${place} is missing or is no group of values`;
  const extra = Object.keys(value).find((key) => !keys.includes(key));
  if (extra !== undefined) return `${place} holds \u201c${extra}\u201d, which no card has`;
  const wrong = texts.find((key) => typeof value[key] !== "string");
  return wrong === undefined ? undefined : `${place} has no text for \u201c${wrong}\u201d`;
};

const cardFault = (card: unknown): string | undefined => {
  const fault = keyFault(card, "the card", [...TEXTS, ...Object.keys(LISTS)], TEXTS);
  if (fault !== undefined) return fault;
  for (const [list, keys] of Object.entries(LISTS)) {
    const items = (card as Record<string, unknown>)[list];
    if (!Array.isArray(items)) return `the card has no list of ${list}`;
    for (const [i, item] of (items as unknown[]).entries()) {
      const place = `number ${i + 1} of ${list}`;
      const wrong = keyFault(item, place, keys, keys.filter((key) => key !== "answers"));
      if (wrong !== undefined) return wrong;
      const { answers } = item as { answers?: unknown };
      if (!keys.includes("answers")) continue;
      if (!Array.isArray(answers)) return `${place} has no list of answers`;
      for (const answer of answers as unknown[]) {
        const bad = keyFault(answer, `an answer of ${place}`, ANSWER, ANSWER);
        if (bad !== undefined) return bad;
      }
    }
    const names = (items as { name: string }[]).map(({ name }) => name);
    const twice = names.find((name, i) => names.indexOf(name) !== i);
    if (twice !== undefined) return `the card has \u201c${twice}\u201d twice among its ${list}`;
  }
  return undefined;
};

/** A kept card from its file, or what is wrong with the file. */
export const readCard = (text: string): Checked => {
  if (text.length > MOST_CHARACTERS) return { question: "This file is far too long for a prediction card." };
  let value: unknown;
  try {
    value = JSON.parse(text.replace(/^\ufeff/, ""));
  } catch {
    return { question: "This is no prediction card: the file cannot be read as one. Open the file that was kept, whole and unedited." };
  }
  const no = (why: string): Checked => ({ question: `This is no whole prediction card: ${why}.` });
  const fault = keyFault(value, "the file", ["format", "card", "hash", "seals"], ["format", "hash"]);
  if (fault !== undefined) return no(fault);
  const kept = value as unknown as KeptCard;
  if (kept.format !== FORMAT) return no(`it says it is a \u201c${kept.format}\u201d; this page reads \u201c${FORMAT}\u201d`);
  const bad = cardFault(kept.card) ?? (isRecord(kept.seals) ? keyFault(kept.seals, "the seals", Object.keys(kept.seals), Object.keys(kept.seals)) : "it has no seals");
  return bad === undefined ? { kept } : no(bad);
};

export interface CardChange {
  /** "changed": the value is not the one sealed; "added" or "removed": it has no seal, or a seal is left without it. */
  readonly what: "changed" | "added" | "removed";
  readonly label: string;
  readonly path: string;
  /** What stands there now; empty where it was removed. */
  readonly text: string;
}

export interface CardCheck {
  readonly unchanged: boolean;
  readonly changes: readonly CardChange[];
  /** Of the values as they are now. */
  readonly hash: string;
  readonly code: string;
  /** Whether the code given is this card's; undefined where none was given. */
  readonly published?: boolean;
}

const bare = (code: string): string => code.toUpperCase().replace(/[^A-Z2-7]/g, "");

export const verifyCard = ({ card, hash, seals }: KeptCard, published = ""): CardCheck => {
  const lines = linesOf(card);
  const now = hashOf(card);
  const changes: CardChange[] = lines.flatMap((line): CardChange[] => {
    const seal = Object.hasOwn(seals, line.path) ? seals[line.path] : undefined;
    return seal === sealOf(line) ? [] : [{ what: seal === undefined ? "added" : "changed", label: line.label, path: line.path, text: line.text }];
  });
  const paths = new Set(lines.map(({ path }) => path));
  for (const path of Object.keys(seals)) if (!paths.has(path)) changes.push({ what: "removed", label: path, path, text: "" });
  const code = codeOf(now);
  return { unchanged: changes.length === 0 && now === hash, changes, hash: now, code, ...(bare(published) !== "" && { published: bare(published) === bare(code) }) };
};

/** Says what a check found, the verdict first. */
export const checkWords = (check: CardCheck): string[] => {
  const { unchanged, changes, published } = check;
  const verdict = unchanged ? ["Not changed after freeze: every printed value agrees with its seal, and all together with the hash."] : ["Changed after freeze."];
  const which = changes.map(({ what, label, text }) => (what === "removed" ? `Removed: ${label}.` : `${what === "added" ? "Added" : "Changed"}: ${label}, now \u201c${text}\u201d.`));
  const whole = !unchanged && changes.length === 0 ? ["The hash written in the file is not that of its values: the hash, or the order of the values, was changed."] : [];
  const code =
    published === undefined
      ? ["No published code was given. A file that agrees with itself may still have been made anew; only a code published before the take shows that it is the same card."]
      : [published ? "Its code is the one given." : "Its code is not the one given. If that is the one code of a whole show, look for the hash of this card in the codes.txt of its pack; if it is of one card, this is not that card."];
  return [...verdict, ...which, ...whole, ...code];
};

export type { Card };
