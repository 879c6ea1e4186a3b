/** What every element of a page has in common: it follows the page's one session. */
import type { Change, Session } from "../state/session.ts";

let present: Session | undefined;

/** Set once, before the elements are defined. */
export const useSession = (session: Session): void => {
  present = session;
};

/**
 * What the reader can see comes first. While they drag, the rest of a long page stands; when they let go, it follows in a task of
 * its own, and whatever comes into sight is brought up to date there and then.
 */
const sight = new IntersectionObserver((entries) => {
  for (const { target, isIntersecting } of entries) (target as LiveElement).sighted(isIntersecting);
});
const waiting = new Set<LiveElement>();
const catchUp = (): void => {
  const due = [...waiting];
  // First, so that what an element asks for meanwhile, or one that fails, leaves nothing stuck.
  waiting.clear();
  for (const element of due) element.catchUp();
};
addEventListener("beforeprint", catchUp);

export abstract class LiveElement extends HTMLElement {
  #stop: (() => void) | undefined;
  #ready = false;
  #seen = true;
  /** What has changed out of sight. */
  #owed: Change | undefined;

  /** The page defines its elements after the session stands, so it is there. */
  get session(): Session {
    if (present === undefined) throw new Error(`${this.localName}: the page has no session yet`);
    return present;
  }

  /** Once: take the page's HTML over. */
  protected abstract prepare(): void;
  /** After each change, and whenever the element comes (back) into the page. */
  protected abstract update(change: Change): void;

  connectedCallback(): void {
    if (present === undefined) return;
    if (!this.#ready) {
      this.#ready = true;
      this.prepare();
    }
    this.#stop ??= present.subscribe((change) => this.#changed(change));
    sight.observe(this);
    this.update("shown");
  }

  disconnectedCallback(): void {
    sight.unobserve(this);
    this.#seen = true;
    this.#owed = undefined;
    this.#stop?.();
    this.#stop = undefined;
  }

  #changed(change: Change): void {
    if (this.#seen || change === "instant") {
      if (change !== "instant") this.#owed = undefined;
      this.update(change);
      return;
    }
    // The greater one stays: a drag shows less than what was owed before it.
    if (this.#owed === undefined || this.#owed === "drag" || change === "settled") this.#owed = change;
    if (change === "drag") return;
    if (waiting.size === 0) setTimeout(catchUp);
    waiting.add(this);
  }

  sighted(seen: boolean): void {
    this.#seen = seen;
    if (seen) this.catchUp();
  }

  catchUp(): void {
    const owed = this.#owed;
    this.#owed = undefined;
    if (owed !== undefined && this.isConnected) this.update(owed);
  }

  /** First element inside that fits, with its type. */
  protected find<E extends Element>(selector: string): E | null {
    return this.querySelector<E>(selector);
  }
}

/** Writes text only where it differs: an untouched node costs no layout. */
export const setText = (element: Element | null, text: string): void => {
  if (element !== null && element.textContent !== text) element.textContent = text;
};

export const setAttribute = (element: Element | null, name: string, value: string): void => {
  if (element !== null && element.getAttribute(name) !== value) element.setAttribute(name, value);
};
