/** The script `card.js` of prediction cards and cue cards. It comes after the lesson's own, which has started the page. */
import { CueCardElement } from "./elements/cue-card.ts";
import { useSession } from "./elements/live.ts";
import { PredictionCardElement } from "./elements/prediction-card.ts";
import type { Session } from "./state/session.ts";

// This script has its own copy of what the elements share, so it is told of the page's session again.
useSession((globalThis as unknown as { ridedown: { session: Session } }).ridedown.session);
customElements.define("prediction-card", PredictionCardElement);
customElements.define("cue-card", CueCardElement);
