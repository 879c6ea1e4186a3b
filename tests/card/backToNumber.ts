/** English number words back to a number: the inverse of what is tested, written apart from it. */
const UNITS: Readonly<Record<string, number>> = Object.fromEntries("zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen".split(" ").map((word, n) => [word, n]));
const TENS: Readonly<Record<string, number>> = { twenty: 20, thirty: 30, forty: 40, fifty: 50, sixty: 60, seventy: 70, eighty: 80, ninety: 90 };
const LARGE: Readonly<Record<string, number>> = { thousand: 1e3, million: 1e6, billion: 1e9 };

/** As the digits that were read: "two point four zero" is "2.40". */
export const backToNumber = (words: string): string => {
  const [, minus, rest = ""] = /^(minus )?(.*)$/.exec(words) ?? [];
  const [whole = "", fraction] = rest.split(" point ");
  let total = 0;
  let group = 0;
  for (const word of whole.split(/[ -]/).filter((w) => w !== "and")) {
    if (word in UNITS) group += UNITS[word] as number;
    else if (word in TENS) group += TENS[word] as number;
    else if (word === "hundred") group *= 100;
    else if (word in LARGE) {
      total += group * (LARGE[word] as number);
      group = 0;
    } else throw new Error(`no number word: ${word} in ${words}`);
  }
  return `${minus === undefined ? "" : "-"}${total + group}${fraction === undefined ? "" : `.${fraction.split(" ").map((word) => UNITS[word]).join("")}`}`;
};

export const isNumberWord = (word: string): boolean => ["minus", "point", "and", "hundred", ...Object.keys(UNITS), ...Object.keys(TENS), ...Object.keys(LARGE)].includes(word);
