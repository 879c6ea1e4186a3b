/** Opens a scene or a figure on screen. What fills the screen is a script of its own, fetched the first time it is asked for. */
import { SCREEN_KEY } from "../state/link.ts";
import type { Session } from "../state/session.ts";
import { LiveElement, setText } from "./live.ts";

/** What `screen.js` leaves for the page. */
export interface ScreenTool {
  readonly open: (opener: HTMLElement) => void;
}

let coming: Promise<ScreenTool> | undefined;

const fetchTool = (): Promise<ScreenTool> =>
  (coming ??= new Promise((done, fail) => {
    const script = document.createElement("script");
    script.src = "screen.js";
    script.addEventListener("load", () => done((globalThis as unknown as { ridedownScreen: ScreenTool }).ridedownScreen));
    script.addEventListener("error", () => {
      // The next try fetches it again.
      coming = undefined;
      fail(new Error("screen.js is not there"));
    });
    document.head.append(script);
  }));

export class OnScreenElement extends LiveElement {
  protected prepare(): void {
    this.find("button")?.addEventListener("click", () => void this.open());
  }

  protected update(): void {}

  async open(): Promise<void> {
    try {
      (await fetchTool()).open(this);
    } catch {
      setText(this.find("button"), "On screen: its script cannot be had");
    }
  }
}

/** Opens what the address names, `#page.screen=scene:meeting`, where it stands on the page. */
export const openLinked = (hash: string, session: Session): void => {
  const part = new URLSearchParams(hash.slice(1)).get(SCREEN_KEY);
  if (part === null) return;
  const element = document.querySelector<OnScreenElement>(`on-screen[data-part="${CSS.escape(part)}"]`);
  if (element) void element.open();
  else session.refuse(`There is no \u201c${part}\u201d to show on screen yet; this page opens as it is.`);
};
