/** Says once why the present case has no result. */
import { outcomeText } from "../render/value.ts";
import { LiveElement, setText } from "./live.ts";

export class CaseOutcomeElement extends LiveElement {
  protected prepare(): void {}

  protected update(): void {
    const { view } = this.session;
    setText(this, view.state.outcome === undefined ? "" : outcomeText(view, view.state.outcome));
  }
}
