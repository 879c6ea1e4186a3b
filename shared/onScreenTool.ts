/** The rare tool `screen.js`: a scene or a figure over the whole screen, and what is taken away from it. It comes when first asked for. */
import type { ScreenTool } from "./elements/on-screen.ts";
import { painter, readStyles } from "./export/paint.ts";
import { OnScreenView } from "./onScreenView.ts";
import type { Session } from "./state/session.ts";

/** Put in by the builder: the style sheets of drawings, and the version. */
declare const RIDEDOWN_STYLES: string;
declare const RIDEDOWN_VERSION: string;

const styles = readStyles(RIDEDOWN_STYLES);
const { session } = (globalThis as unknown as { ridedown: { session: Session } }).ridedown;
const view = new OnScreenView(session, { light: painter(styles, "light"), dark: painter(styles, "dark") }, RIDEDOWN_VERSION);

(globalThis as unknown as { ridedownScreen: ScreenTool }).ridedownScreen = { open: (opener) => view.open(opener) };
