/**
 * The one script that every lesson shares. It offers what the code of a lesson imports, and starts the page once a lesson's own
 * small script has handed the lesson over.
 */
import * as lib from "../lib/index.ts";
import { CaseBarElement } from "./elements/case-bar.ts";
import { ChoiceInputElement } from "./elements/choice-input.ts";
import { ClaimNoteElement } from "./elements/claim-note.ts";
import { HeldCaseElement } from "./elements/held-case.ts";
import { LessonFigureElement } from "./elements/lesson-figure.ts";
import { LessonSceneElement } from "./elements/lesson-scene.ts";
import { setText, useSession } from "./elements/live.ts";
import { PredictGateElement } from "./elements/predict-gate.ts";
import { QuantityInputElement } from "./elements/quantity-input.ts";
import { QuantityOutputElement } from "./elements/quantity-output.ts";
import { ScaleSwitchElement } from "./elements/scale-switch.ts";
import { ShareLinkElement } from "./elements/share-link.ts";
import { TableInputElement } from "./elements/table-input.ts";
import { UnitSwitchElement } from "./elements/unit-switch.ts";
import * as figures from "./figures/index.ts";
import * as lesson from "./lesson.ts";
import { scenario } from "./scenario/index.ts";
import * as scenes from "./scenes/index.ts";
import { type PageData, Session } from "./state/session.ts";

/** The gate first: it takes the answer out before anything else looks at it. */
const ELEMENTS: Readonly<Record<string, CustomElementConstructor>> = {
  "predict-gate": PredictGateElement,
  "lesson-scene": LessonSceneElement,
  "lesson-figure": LessonFigureElement,
  "quantity-input": QuantityInputElement,
  "choice-input": ChoiceInputElement,
  "table-input": TableInputElement,
  "quantity-output": QuantityOutputElement,
  "claim-note": ClaimNoteElement,
  "unit-switch": UnitSwitchElement,
  "scale-switch": ScaleSwitchElement,
  "case-bar": CaseBarElement,
  "held-case": HeldCaseElement,
  "share-link": ShareLinkElement,
};

/** One sentence, once, when the reader lets go. */
const announceResults = (session: Session): void => {
  const status = document.createElement("p");
  status.className = "visually-hidden";
  status.id = "announced";
  status.setAttribute("role", "status");
  document.body.append(status);
  session.subscribe((change) => {
    if (change !== "settled") return;
    const { lesson: declared, state } = session.view;
    const sentence = Object.keys(declared.outputs).find((name) => declared.outputs[name]?.type === "sentence");
    setText(status, state.outcome ?? (sentence === undefined ? "" : String(state.outputs[sentence] ?? "")));
  });
};

const start = (declared: lesson.Lesson, data: PageData): void => {
  const session = new Session(declared, data, {
    frame: (work) => void requestAnimationFrame(work),
    hash: () => location.hash,
    setHash: (hash) => {
      const { pathname, search } = location;
      history.replaceState(null, "", hash === "" ? pathname + search : hash);
    },
    kernels: lib,
  });
  useSession(session);
  announceResults(session);
  const lock = (): void => void document.documentElement.classList.toggle("locked", session.locked);
  session.subscribe(lock);
  for (const [tag, element] of Object.entries(ELEMENTS)) customElements.define(tag, element);
  // Someone edits the address by hand.
  addEventListener("hashchange", () => session.readHash());
  document.documentElement.classList.add("started");
};

Object.assign(globalThis, { ridedown: { lib, lesson, scenes, figures, scenario, start } });
