/** What every element of a page has in common: it follows the page's one session. */
import type { Change, Session } from "../state/session.ts";

let present: Session | undefined;

/** Set once, before the elements are defined. */
export const useSession = (session: Session): void => {
  present = session;
};

/** While the reader drags, only what they can see follows; the rest waits until it comes into sight or they let go. */
const sight = new IntersectionObserver((entries) => {
  for (const { target, isIntersecting } of entries) (target as LiveElement).sighted(isIntersecting);
});

export abstract class LiveElement extends HTMLElement {
  #stop: (() => void) | undefined;
  #ready = false;
  #seen = true;
  #lags = false;

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
    this.#stop ??= present.subscribe((change) => {
      if (change === "drag" && !this.#seen) this.#lags = true;
      else {
        this.#lags &&= change === "instant";
        this.update(change);
      }
    });
    sight.observe(this);
    this.update("shown");
  }

  disconnectedCallback(): void {
    sight.unobserve(this);
    this.#seen = true;
    this.#stop?.();
    this.#stop = undefined;
  }

  sighted(seen: boolean): void {
    this.#seen = seen;
    if (!seen || !this.#lags) return;
    this.#lags = false;
    this.update("drag");
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
