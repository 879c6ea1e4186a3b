/** A sentence that the builder tests; opens how it was tested. */
import { LiveElement } from "./live.ts";
import { placePopover } from "./popover.ts";

export class ClaimNoteElement extends LiveElement {
  protected prepare(): void {
    const note = this.part<HTMLElement>(".from");
    const opener = this.part<HTMLElement>("[popovertarget]");
    if (note && opener) placePopover(note, opener, () => {});
  }

  protected update(): void {}
}
