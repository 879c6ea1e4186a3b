/**
 * The one script that every lesson shares. It offers what the code of a lesson imports, and starts the page once a lesson's own
 * small script has handed the lesson over.
 */
import { AnswerCheckElement } from "./elements/answer-check.ts";
import { CaseBarElement } from "./elements/case-bar.ts";
import { CaseOutcomeElement } from "./elements/case-outcome.ts";
import { ChoiceInputElement } from "./elements/choice-input.ts";
import { ClaimNoteElement } from "./elements/claim-note.ts";
import { HeldCaseElement } from "./elements/held-case.ts";
import { LessonFigureElement } from "./elements/lesson-figure.ts";
import { LessonSceneElement } from "./elements/lesson-scene.ts";
import { setText, useSession } from "./elements/live.ts";
import { LinkNoticeElement } from "./elements/link-notice.ts";
import { OnScreenElement, openLinked } from "./elements/on-screen.ts";
import { goToPlace } from "./elements/place.ts";
import { PredictGateElement } from "./elements/predict-gate.ts";
import { QuantityInputElement } from "./elements/quantity-input.ts";
import { QuantityOutputElement } from "./elements/quantity-output.ts";
import { ScaleSwitchElement } from "./elements/scale-switch.ts";
import { ShareLinkElement } from "./elements/share-link.ts";
import { StudyPanelElement } from "./elements/study-panel.ts";
import { TableInputElement } from "./elements/table-input.ts";
import { UnitSwitchElement } from "./elements/unit-switch.ts";
import * as lesson from "./lesson.ts";
import * as scenario from "./scenario/index.ts";
import { outcomeText } from "./render/value.ts";
import { type PageData, Session } from "./state/session.ts";
import { storeIn } from "./state/storage.ts";

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
  "case-outcome": CaseOutcomeElement,
  "held-case": HeldCaseElement,
  "link-notice": LinkNoticeElement,
  "share-link": ShareLinkElement,
  "answer-check": AnswerCheckElement,
  "study-panel": StudyPanelElement,
  "on-screen": OnScreenElement,
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
    const { outcome } = state;
    const sentence = Object.keys(declared.outputs).find((name) => declared.outputs[name]?.type === "sentence");
    setText(status, outcome === undefined ? (sentence === undefined ? "" : String(state.outputs[sentence] ?? "")) : outcomeText(session.view, outcome));
  });
};

const start = (declared: lesson.Lesson, given: PageData): void => {
  // One script serves the lesson and its bench page; the page says which of the two it is.
  const { scale } = document.body.dataset;
  const session = new Session(declared, scale === undefined ? given : { ...given, at: scale }, {
    frame: (work) => void requestAnimationFrame(work),
    later: (work) => void setTimeout(work),
    now: () => performance.now(),
    hash: () => location.hash,
    setHash: (hash) => {
      const { pathname, search } = location;
      history.replaceState(null, "", hash === "" ? pathname + search : hash);
    },
    keep: storeIn(() => localStorage),
  });
  useSession(session);
  // For scripts that come after the lesson's own.
  Object.assign(ridedown, { session });
  announceResults(session);
  const lock = (): void => void document.documentElement.classList.toggle("locked", session.locked);
  session.subscribe(lock);
  for (const [tag, element] of Object.entries(ELEMENTS)) customElements.define(tag, element);
  // Someone edits the address by hand.
  addEventListener("hashchange", () => {
    // Reading a state writes the address anew.
    const { hash } = location;
    session.readHash();
    openLinked(hash, session);
    goToPlace(hash, session);
  });
  // Where a printed sheet was printed from.
  const address = document.createElement("p");
  address.className = "address";
  document.querySelector("footer.site")?.append(address);
  addEventListener("beforeprint", () => setText(address, location.href));
  document.documentElement.classList.add("started");
  openLinked(location.hash, session);
  goToPlace(location.hash, session);
};

/** A lesson's own script comes as a function, so that a worker can be given the same code. */
const load = (code: (page: unknown) => void): void => {
  Object.assign(ridedown, { code });
  code(ridedown);
};

const ridedown = { lesson, scenario, start, load };
Object.assign(globalThis, { ridedown });
