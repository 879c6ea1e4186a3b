/** A sentence that the builder tests; opens how it was tested. */
import { LiveElement } from "./live.ts";
import { placePopover } from "./popover.ts";

export class ClaimNoteElement extends LiveElement {
  protected prepare(): void {
    const note = this.find<HTMLElement>(".from");
    const opener = this.find<HTMLElement>("[popovertarget]");
    if (note && opener) placePopover(note, opener, () => {});
  }

  protected update(): void {}
}
