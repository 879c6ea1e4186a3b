// The command line as a person meets it: separate processes, real files, a real server.
import { type ChildProcess, execFile, spawn } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { HOME } from "../../build/site.ts";

/** Room for a slow machine that does other work as well; each step takes a second or two alone. */
const SLOW = 90_000;
const FIXTURE = readFileSync(join(HOME, "tests/build/fixtures/lessons/fixture.md"), "utf8");
mkdirSync(join(HOME, ".cache"), { recursive: true });
const work = mkdtempSync(join(HOME, ".cache/commands-test-"));
const started: ChildProcess[] = [];
afterAll(() => {
  for (const child of started) child.kill();
  rmSync(work, { recursive: true, force: true });
});

const ARGUMENTS = ["--import", "tsx", join(HOME, "build/main.ts")];
const run = (...args: string[]): Promise<{ code: number; out: string; err: string }> =>
  new Promise((done) => {
    const child = execFile(process.execPath, [...ARGUMENTS, ...args], { cwd: HOME }, (_error, out, err) => done({ code: child.exitCode ?? -1, out, err }));
  });
const folderWith = (name: string, source: string): string => {
  const folder = join(work, name);
  mkdirSync(folder);
  writeFileSync(join(folder, "fixture.md"), source);
  return folder;
};

describe("build", () => {
  test("writes the site and says what the pages weigh", { timeout: SLOW }, async () => {
    const out = join(work, "dist");
    mkdirSync(out);
    writeFileSync(join(out, "gone.html"), "from a lesson that is no more");
    writeFileSync(join(out, "notes.txt"), "someone's own");
    const { code, out: said } = await run("build", "--lessons", folderWith("right", FIXTURE), "--out", out);
    expect(code).toBe(0);
    expect(said).toMatch(/^1 lesson in \d+ ms/);
    expect(said).toMatch(/ kB {2}fixture\.html/);
    expect(readdirSync(out)).toEqual(expect.arrayContaining(["fixture.html", "fixture.js", "index.html", "notes.txt", "page.css", "page.js"]));
    expect(existsSync(join(out, "gone.html"))).toBe(false);
  });

  test("lists every mistake as file:line:column: message, exits with 1 and writes nothing", { timeout: SLOW }, async () => {
    const out = join(work, "nothing");
    const folder = folderWith("wrong", FIXTURE.replace("(input:massA)", "(input:masA)").replace("minutes: 3", "minuts: 3"));
    const { code, err } = await run("build", "--lessons", folder, "--out", out);
    expect(code).toBe(1);
    expect(err).toMatch(/fixture\.md:4:1: minuts is not a key of the front matter; the nearest is minutes\n/);
    expect(err).toMatch(/fixture\.md:\d+:4: there is no input masA; the nearest is massA\n/);
    expect(existsSync(out)).toBe(false);
  });

  test("answers a scenario file that is not there, and a command that is none", { timeout: SLOW }, async () => {
    const [missing, unknown] = await Promise.all([run("build", "--scenario", join(work, "no-show.yaml")), run("biuld")]);
    expect(missing.code).toBe(1);
    expect(missing.err).toMatch(/no-show\.yaml:1:1: there is no such file/);
    expect(unknown.code).toBe(1);
    expect(unknown.err).toMatch(/biuld is not a command; the nearest is build/);
  });
});

describe("serve", () => {
  /** Text that a stream has given so far, and a promise of a pattern in it. */
  const listen = (streams: readonly NodeJS.ReadableStream[]): ((pattern: RegExp) => Promise<RegExpExecArray>) => {
    let text = "";
    const waiting = new Set<() => void>();
    for (const stream of streams)
      stream.on("data", (chunk: unknown) => {
        text += String(chunk);
        waiting.forEach((look) => look());
      });
    return (pattern) =>
      new Promise((done) => {
        const look = (): void => {
          const found = pattern.exec(text);
          if (found === null) return;
          waiting.delete(look);
          text = text.slice(found.index + found[0].length);
          done(found);
        };
        waiting.add(look);
        look();
      });
  };

  test("serves, reloads on a save, and keeps the old page on a mistake", { timeout: SLOW }, async () => {
    const folder = folderWith("served", FIXTURE);
    const path = join(folder, "fixture.md");
    const child = spawn(process.execPath, [...ARGUMENTS, "serve", "--port", "0", "--lessons", folder], { cwd: HOME });
    started.push(child);
    const says = listen([child.stdout, child.stderr]);
    const [, address = ""] = await says(/(http:\/\/localhost:\d+\/)/);
    const page = async (name: string): Promise<{ status: number; text: string }> => {
      const response = await fetch(address + name);
      return { status: response.status, text: await response.text() };
    };
    expect((await page("")).text).toContain("Which one changes velocity more?");
    const first = await page("fixture.html");
    // The reload stream is allowed here, and here only.
    expect(first.text).toContain("connect-src 'self'");
    expect(first.text).toContain('src="reload.js"');
    expect((await page("fixture")).text).toBe(first.text);
    expect((await page("../package.json")).status).toBe(404);
    await says(/claims hold in every state searched/);

    const stream = (await fetch(`${address}reload-events`)).body?.getReader();
    const event = async (): Promise<string> => {
      for (;;) {
        const { value } = (await stream?.read()) ?? {};
        const text = new TextDecoder().decode(value);
        if (text.startsWith("data:")) return text;
      }
    };
    writeFileSync(path, FIXTURE.replace("Two trolleys meet and stick.", "Two trolleys touch and stick."));
    expect(await event()).toBe("data: reload\n\n");
    expect((await page("fixture.html")).text).toContain("touch and stick");

    writeFileSync(path, FIXTURE.replace("(output:changeB)", "(output:chnageB)"));
    await says(/there is no output chnageB; the nearest is changeB[\s\S]*the pages stay as they were/);
    expect((await page("fixture.html")).text).toContain("touch and stick");

    writeFileSync(join(folder, "second.md"), FIXTURE);
    writeFileSync(path, FIXTURE);
    await says(/2 lessons built/);
    expect((await page("second.html")).status).toBe(200);
    await stream?.cancel();
  });
});
