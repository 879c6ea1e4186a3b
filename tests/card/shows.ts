/** Both shows, built once for all files that look at them: a worker keeps what its files share. */
import { join } from "node:path";
import { type Built, HOME, Site } from "../../build/site.ts";

export const SHOWS = ["shared/scenario/demo.yaml", "shared/scenario/cresswold.yaml"] as const;
export const CACHE = join(HOME, ".cache");

const made = new Map<string, Promise<{ readonly site: Site; readonly built: Built }>>();

export const builtShow = (path: string): Promise<{ readonly site: Site; readonly built: Built }> => {
  const before = made.get(path);
  if (before !== undefined) return before;
  const site = new Site({ home: HOME, cache: CACHE, ...(path !== SHOWS[0] && { scenario: join(HOME, path) }) });
  const now = site.build({ claims: false }).then((built) => ({ site, built }));
  made.set(path, now);
  return now;
};
