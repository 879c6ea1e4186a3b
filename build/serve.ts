/**
 * `npm start`: the site on localhost, built again on each save and reloaded in the browser. A mistake is printed and the old page
 * stays. Claims are searched once the pages are up, in a process of their own that a new save ends.
 */
import { type ChildProcess, fork } from "node:child_process";
import { watch } from "node:fs";
import { createServer, type ServerResponse } from "node:http";
import { basename, dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import type { Files } from "./bundle.ts";
import type { Order } from "./builder.ts";
import { INSTALLED, runnable, WORK } from "./home.ts";
import { escapeHtml } from "./html.ts";
import { contentPolicy } from "./shell.ts";
import { type LeftOut, writeLeftOut } from "./leftOut.ts";
import { named } from "./readLessons.ts";
import { type Problem, writeProblem } from "./problem.ts";
import { DEMO, HOME, type SiteOptions } from "./site.ts";

export interface ServeOptions {
  readonly port: number;
  readonly scenario: string | undefined;
  readonly lessons: string | undefined;
}

interface Answer {
  readonly files: Files;
  readonly problems: readonly Problem[];
  readonly warnings: readonly Problem[];
  readonly lessons: readonly string[];
  readonly leftOut: LeftOut;
  readonly milliseconds: number;
}

const TYPES: Readonly<Record<string, string>> = { html: "text/html", js: "text/javascript", css: "text/css" };
/** Editors write a file in several steps; one build answers them all. */
const SETTLE = 40;
const RELOAD = `new EventSource("reload-events").onmessage = () => location.reload();`;

const listed = (problems: readonly Problem[]): string => problems.map(writeProblem).join("\n");

export const serve = async ({ port, scenario, lessons }: ServeOptions): Promise<void> => {
  const folder = lessons ?? join(WORK, "lessons");
  const scenarioPath = resolve(scenario ?? join(HOME, DEMO));
  const siteOptions: SiteOptions = { ...(lessons !== undefined && { lessons }), scenario, serving: true };
  const worker = fileURLToPath(runnable("build/builder.ts"));

  let files: Files = {};
  let problems: readonly Problem[] = [];
  let warned = "";
  const readers = new Set<ServerResponse>();
  const tellReaders = (): void => readers.forEach((reader) => reader.write("data: reload\n\n"));

  const start = (): ChildProcess => fork(worker, [JSON.stringify(siteOptions)], { stdio: ["ignore", "inherit", "inherit", "ipc"] });
  let builder = start();
  let searcher: ChildProcess | undefined;
  const endSearch = (): void => {
    searcher?.kill();
    searcher = undefined;
  };
  for (const signal of ["SIGINT", "SIGTERM"] as const)
    process.on(signal, () => {
      endSearch();
      builder.kill();
      process.exit(0);
    });

  /** One build at a time; resolves with what came of it, or with nothing where the child ended first. */
  const ask = (child: ChildProcess, order: Order): Promise<Answer | undefined> =>
    new Promise((done) => {
      const onMessage = (message: unknown): void => {
        if (message === "ready") return void child.send(order);
        finish(message as Answer);
      };
      const onExit = (): void => finish(undefined);
      const finish = (answer: Answer | undefined): void => {
        child.off("message", onMessage).off("exit", onExit);
        done(answer);
      };
      child.on("message", onMessage).on("exit", onExit);
    });
  const askAgain = (child: ChildProcess, order: Order): Promise<Answer | undefined> => {
    const answer = ask(child, order);
    child.send(order);
    return answer;
  };

  const searchClaims = async (): Promise<void> => {
    endSearch();
    const child = start();
    searcher = child;
    const answer = await ask(child, { claims: true, forget: false });
    if (answer === undefined || searcher !== child) return;
    endSearch();
    problems = answer.problems;
    if (answer.problems.length === 0) {
      files = { ...answer.files, "reload.js": RELOAD };
      console.log("claims hold in every state searched");
    } else console.error(listed(answer.problems));
  };

  const take = (answer: Answer | undefined, first: boolean): void => {
    if (answer === undefined) return;
    problems = answer.problems;
    const warnings = [...writeLeftOut(answer.leftOut, named(scenarioPath)), ...answer.warnings.map(writeProblem)].join("\n");
    if (warnings !== warned) {
      warned = warnings;
      if (warned !== "") console.error(warned);
    }
    if (answer.problems.length > 0) {
      console.error(listed(answer.problems));
      if (!first) console.error(`${answer.problems.length} to mend; the pages stay as they were`);
    }
    if (answer.problems.length === 0 || first) {
      files = { ...answer.files, "reload.js": RELOAD };
      console.log(`${answer.lessons.length} ${answer.lessons.length === 1 ? "lesson" : "lessons"} built in ${answer.milliseconds.toFixed(0)} ms`);
      if (!first) tellReaders();
    }
    if (answer.problems.length === 0) void searchClaims();
  };

  // ------------------------------------------------------------------ server

  const missing = (name: string): string => `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="${contentPolicy(true)}"><title>Not built</title><script src="/reload.js" defer></script></head>
<body><h1>${escapeHtml(name)} is not there</h1>${problems.length > 0 ? `<p>To mend:</p><pre>${escapeHtml(listed(problems))}</pre>` : ""}<p><a href="/index.html">All lessons</a></p></body></html>`;
  const server = createServer((request, response) => {
    let path = "";
    try {
      path = decodeURIComponent(new URL(request.url ?? "/", "http://localhost").pathname).slice(1);
    } catch {
      // A broken address is a page that is not there.
    }
    if (path === "reload-events") {
      response.writeHead(200, { "content-type": "text/event-stream", "cache-control": "no-store" });
      response.write(":\n\n");
      readers.add(response);
      request.on("close", () => readers.delete(response));
      return;
    }
    const name = path === "" ? "index.html" : Object.hasOwn(files, path) ? path : `${path}.html`;
    const found = Object.hasOwn(files, name) ? files[name] : undefined;
    const type = TYPES[found === undefined ? "html" : (name.split(".").at(-1) as string)] ?? "text/plain";
    response.writeHead(found === undefined ? 404 : 200, { "content-type": `${type}; charset=utf-8`, "cache-control": "no-store" });
    response.end(request.method === "HEAD" ? undefined : (found ?? missing(path)));
  });
  const listening = (at: number): Promise<number> =>
    new Promise((done, fail) => {
      server.once("error", (error: NodeJS.ErrnoException) => (error.code === "EADDRINUSE" ? done(listening(0)) : fail(error)));
      server.listen(at, "127.0.0.1", () => {
        const address = server.address();
        done(typeof address === "object" && address !== null ? address.port : at);
      });
    });

  take(await ask(builder, { claims: false, forget: false }), true);
  const used = await listening(port);
  if (used !== port && port !== 0) console.log(`port ${port} is taken`);
  console.log(`http://localhost:${used}/`);

  // ------------------------------------------------------------------ saves

  let timer: NodeJS.Timeout | undefined;
  let restart = false;
  let forget = false;
  let busy = false;
  let again = false;
  const rebuild = async (): Promise<void> => {
    if (busy) {
      again = true;
      return;
    }
    busy = true;
    endSearch();
    const order: Order = { claims: false, forget };
    forget = false;
    if (restart) {
      restart = false;
      builder.kill();
      builder = start();
      take(await ask(builder, order), false);
    } else take(await askAgain(builder, order), false);
    busy = false;
    if (again) {
      again = false;
      void rebuild();
    }
  };
  const saved = (): void => {
    clearTimeout(timer);
    timer = setTimeout(() => void rebuild(), SETTLE);
  };
  watch(folder, (_event, name) => {
    if (name === null || name.endsWith(".md")) saved();
  });
  watch(dirname(scenarioPath), (_event, name) => {
    if (name !== null && name !== basename(scenarioPath)) return;
    forget = true;
    saved();
  });
  // The builder itself runs this code: it starts afresh.
  for (const source of INSTALLED ? [] : ["lib", "shared", "build"])
    watch(join(HOME, source), { recursive: true }, (_event, name) => {
      if (name !== null && !/\.(ts|css|yaml)$/.test(name)) return;
      if (resolve(HOME, source, name ?? "") === scenarioPath) return;
      restart = true;
      saved();
    });
};
