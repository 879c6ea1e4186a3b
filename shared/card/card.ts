/**
 * The prediction card: what is printed before the take, sealed by a hash of the printed values.
 *
 * Canonical text, which the hash is taken of: the line `ridedown prediction card 1`, then one line `path = text` for each printed
 * value, in the order of `linesOf`. In every text any run of spaces (no-break and narrow ones too) is one space, the true minus is a
 * hyphen, and letters are composed (Unicode form C). Lines end with one line feed; the bytes are UTF-8. The hash is SHA-256. A file
 * keeps the values, the hash, and a short seal of each line, by which a change is found; anyone can hash the text with a tool of
 * their own.
 */
import { base32, bytesOfHex, sha256 } from "./sha256.ts";

export const FORMAT = "ridedown prediction card 1";

export interface CardInput {
  readonly name: string;
  readonly label: string;
  /** As printed, with its unit. */
  readonly value: string;
  /** Empty where the value is taken as exact. */
  readonly give: string;
  readonly reason: string;
}

/** Numbers as printed, in `unit`: what is compared after the take is what was printed before it. */
export interface CardOutput {
  readonly name: string;
  readonly label: string;
  readonly unit: string;
  readonly low: string;
  readonly likely: string;
  readonly high: string;
}

export interface CardVerdict {
  readonly name: string;
  readonly label: string;
  /** Answers with their share of the runs, the commonest first: "the lighter changes more", "98 of 100". */
  readonly answers: readonly { readonly answer: string; readonly share: string }[];
}

export interface Card {
  readonly lesson: string;
  readonly title: string;
  readonly question: string;
  readonly scenario: string;
  /** Of the code that computed it. */
  readonly version: string;
  /** Day of the freeze, written as 2031-05-17; empty on a draft. */
  readonly frozen: string;
  /** Who freezes it, and for what; may be empty. */
  readonly by: string;
  /** How the ranges were made. */
  readonly study: string;
  readonly inputs: readonly CardInput[];
  readonly outputs: readonly CardOutput[];
  readonly verdicts: readonly CardVerdict[];
}

export interface KeptCard {
  readonly format: string;
  readonly card: Card;
  readonly hash: string;
  /** Path -> seal of its line. */
  readonly seals: Readonly<Record<string, string>>;
}

/** One printed value: where on the card, what it is called there, and what is printed. */
export interface CardLine {
  readonly path: string;
  readonly label: string;
  readonly text: string;
}

export const plain = (text: string): string => text.normalize("NFC").replace(/\u2212/g, "-").replace(/\s+/gu, " ").trim();

const ABOUT = { lesson: "page", title: "title", question: "question", scenario: "scenario", version: "version of the code", frozen: "day of the freeze", by: "who froze it", study: "how the ranges were made" } as const;
const INPUT_PARTS = { label: "name", value: "value", give: "give or take", reason: "reason" } as const;
const OUTPUT_PARTS = { label: "name", low: "low", likely: "likely", high: "high", unit: "unit" } as const;

const parts = <T extends { readonly name: string; readonly label: string }>(kind: string, of: T, names: Readonly<Record<string, string>>): CardLine[] =>
  Object.entries(names).map(([key, words]) => ({ path: `${kind}.${of.name}.${key}`, label: `${plain(of.label)}, ${words}`, text: plain(String(of[key as keyof T])) }));

export const linesOf = (card: Card): CardLine[] => [
  ...(Object.keys(ABOUT) as (keyof typeof ABOUT)[]).map((key) => ({ path: key, label: ABOUT[key], text: plain(card[key]) })),
  ...card.inputs.flatMap((input) => parts("inputs", input, INPUT_PARTS)),
  ...card.outputs.flatMap((output) => parts("outputs", output, OUTPUT_PARTS)),
  ...card.verdicts.flatMap(({ name, label, answers }) => [
    { path: `verdicts.${name}.label`, label: `${plain(label)}, name`, text: plain(label) },
    ...answers.flatMap(({ answer, share }, i) => [
      { path: `verdicts.${name}.${i + 1}.answer`, label: `${plain(label)}, answer ${i + 1}`, text: plain(answer) },
      { path: `verdicts.${name}.${i + 1}.share`, label: `${plain(label)}, share of answer ${i + 1}`, text: plain(share) },
    ]),
  ]),
];

const lineText = ({ path, text }: CardLine): string => `${path} = ${text}\n`;

export const canonicalText = (card: Card): string => `${FORMAT}\n${linesOf(card).map(lineText).join("")}`;

export const hashOf = (card: Card): string => sha256(canonicalText(card));

/** Hex digits of a seal: it points at a change; what proves the card is the whole hash. */
const SEAL = 12;
export const sealOf = (line: CardLine): string => sha256(lineText(line)).slice(0, SEAL);

/** 80 bits: too many to try values until a wanted code comes up, few enough to read out. */
const CODE_BYTES = 10;

/** The code to publish beforehand: the first 80 bits of the hash in four groups of four letters and digits. */
export const codeOf = (hash: string): string => (base32(bytesOfHex(hash).slice(0, CODE_BYTES)).match(/.{4}/g) ?? []).join("-");

/** The card made fast. */
export const freeze = (card: Card): KeptCard => ({
  format: FORMAT,
  card,
  hash: hashOf(card),
  seals: Object.fromEntries(linesOf(card).map((line) => [line.path, sealOf(line)])),
});

/** The file to keep. */
export const cardFile = (kept: KeptCard): string => `${JSON.stringify(kept, null, 1)}\n`;

/** Said wherever a card is frozen. */
export const PUBLISH_FIRST = "Publish the code before the take, where others keep the date: in a newspaper, with a notary, in a message to many. Without that the date proves nothing; anyone can write any date on a card.";
