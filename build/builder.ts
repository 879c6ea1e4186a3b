/** Child process of `serve`: builds when told, so that the server answers while a build or a search runs. */
import { Site, type SiteOptions } from "./site.ts";

export interface Order {
  readonly claims: boolean;
  readonly forget: boolean;
}

const options = JSON.parse(process.argv[2] ?? "{}") as SiteOptions;
const site = new Site(options);

let last = Promise.resolve();
process.on("message", (order: Order) => {
  last = last.then(async () => {
    if (order.forget) site.forget();
    const begun = performance.now();
    const built = await site.build({ claims: order.claims });
    process.send?.({ ...built, milliseconds: performance.now() - begun });
  });
});
process.on("disconnect", () => process.exit(0));
process.send?.("ready");
