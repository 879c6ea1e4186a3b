/** Says at the top of the page what a link asked for in vain, and what is shown instead. */
import { LiveElement, setText } from "./live.ts";

export class LinkNoticeElement extends LiveElement {
  protected prepare(): void {}

  protected update(): void {
    const { problems } = this.session;
    setText(this, problems.length === 0 ? "" : `Not all of this link could be used. ${problems.join(" ")}`);
  }
}
