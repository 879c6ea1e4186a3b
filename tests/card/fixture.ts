/** A card small enough to check by eye. */
import type { Card } from "../../shared/card/card.ts";

export const CARD: Card = {
  lesson: "sharing",
  title: "Sharing out",
  question: "Which one changes velocity more?",
  scenario: "The Thornwick silo test",
  version: "0.1.0",
  frozen: "2031-05-17",
  by: "Ada",
  study: "5000 runs",
  inputs: [
    { name: "massA", label: "mass of the Sprig", value: "900\u00a0kg", give: "10\u00a0kg", reason: "weighed" },
    { name: "meeting", label: "how they meet", value: "they stick", give: "", reason: "chosen" },
  ],
  outputs: [
    { name: "changeA", label: "change of velocity of the Sprig", unit: "km/h", low: "\u221261.0", likely: "\u221260.0", high: "\u221259.0" },
    { name: "push", label: "largest push", unit: "kN", low: "322", likely: "349", high: "376" },
    { name: "share", label: "share", unit: "1", low: "0.492", likely: "0.500", high: "0.508" },
  ],
  verdicts: [{ name: "sharing", label: "whose velocity changes more", answers: [{ answer: "the lighter one", share: "in 98 of 100" }, { answer: "both alike", share: "in 2 of 100" }] }],
};
