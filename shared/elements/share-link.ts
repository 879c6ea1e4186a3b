/** The link to the present case. */
import { LiveElement, setText } from "./live.ts";

export class ShareLinkElement extends LiveElement {
  protected prepare(): void {
    this.innerHTML = '<button type="button">Copy the link to this case</button><span class="message" role="status"></span>';
    this.find("button")?.addEventListener("click", () => void this.#copy());
  }

  async #copy(): Promise<void> {
    const say = (text: string): void => setText(this.find(".message"), text);
    try {
      await navigator.clipboard.writeText(location.href);
      say(location.protocol === "file:" ? "Copied. It works on this computer only, since this page was opened from a file." : "Copied.");
    } catch {
      // Without leave to write there is still the address itself.
      say(`Copy it from here: ${location.href}`);
    }
  }

  protected update(): void {
    const button = this.find<HTMLButtonElement>("button");
    if (button) button.disabled = this.session.locked;
  }
}
