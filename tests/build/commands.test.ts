// The command line as a person meets it: separate processes, real files, a real server.
import { type ChildProcess, execFile, spawn } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { readFrontMatter } from "../../build/frontMatter.ts";
import { CONTAINERS } from "../../build/markdown.ts";
import { newLesson } from "../../build/new.ts";
import { IMAGE_SCHEMES, LINK_SCHEMES, OPTIONS } from "../../build/rules/live.ts";
import { parseScenario } from "../../build/scenario.ts";
import { HOME } from "../../build/site.ts";
import { WRITTEN } from "../../build/writeSite.ts";

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
    writeFileSync(join(out, "own.html"), "someone's own");
    writeFileSync(join(out, WRITTEN), "gone.html\n");
    const { code, out: said } = await run("build", "--lessons", folderWith("right", FIXTURE), "--out", out);
    expect(code).toBe(0);
    expect(said).toMatch(/^1 lesson in \d+ ms; open .*index\.html\nheaviest first load of \d+ pages, after gzip -9: [\d.]+ kB {2}\S+\.html\n$/);
    expect(readdirSync(out)).toEqual(expect.arrayContaining(["fixture.html", "fixture.js", "index.html", "own.html", "page.css", "page.js"]));
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

  test("says what is unlikely in a scenario and which lessons it leaves out, and builds the rest", { timeout: SLOW }, async () => {
    const folder = folderWith("parts", FIXTURE);
    writeFileSync(join(folder, "towed.md"), FIXTURE.replace("minutes: 3", "minutes: 3\nneeds: [tow]"));
    const show = join(folder, "show.yaml");
    const demo = readFileSync(join(HOME, "shared/scenario/demo.yaml"), "utf8");
    writeFileSync(show, demo.replace(/^tow:\n(?:[ #].*\n|\n)*/m, "").replace("value: 1800 kg, give: 20 kg", "value: 18 t, give: 20 kg"));
    const out = join(work, "parts-dist");
    const { code, out: said, err } = await run("build", "--lessons", folder, "--scenario", show, "--out", out);
    expect(code).toBe(0);
    expect(said).toMatch(/^1 lesson in /);
    // Nothing stands after it.
    expect(said).toMatch(/^left out: towed, since \S*show\.yaml has no tow\n$/m);
    expect(err).toMatch(/show\.yaml:\d+:\d+: please check: the one mass is 20 times the other; over 10 is most often a slip of unit\n/);
    expect(existsSync(join(out, "fixture.html"))).toBe(true);
    expect(existsSync(join(out, "towed.html"))).toBe(false);
  });

  test("answers a scenario file that is not there, and a command that is none", { timeout: SLOW }, async () => {
    const [missing, unknown] = await Promise.all([run("build", "--scenario", join(work, "no-show.yaml")), run("biuld")]);
    expect(missing.code).toBe(1);
    expect(missing.err).toMatch(/no-show\.yaml:1:1: there is no such file/);
    expect(unknown.code).toBe(1);
    expect(unknown.err).toMatch(/biuld is not a command; the nearest is build/);
  });
});

describe("--help", () => {
  test("prints the usage of a command, or of all, and ends well", { timeout: SLOW }, async () => {
    const [all, one, short] = await Promise.all([run("--help"), run("new", "--help"), run("frames", "-h")]);
    for (const { code, err } of [all, one, short]) expect([code, err]).toEqual([0, ""]);
    for (const command of ["build", "start", "new", "pack-show", "stills", "frames"]) expect(all.out).toMatch(new RegExp(`^ {2}npm (?:run )?${command} -- `, "m"));
    expect(one.out).toBe('usage:\n  npm run new -- "Title of the lesson" [--lessons folder]\n');
    expect(short.out).toContain("--slowed 50");
    expect(short.out).not.toContain("npm run build");
  });

  test("a slip is answered with the usage of its command only", { timeout: SLOW }, async () => {
    const [title, option] = await Promise.all([run("new", "12"), run("serve", "--prot", "1")]);
    expect(title).toMatchObject({ code: 1, err: 'a lesson needs a title, such as npm run new -- "Light meets heavy"\nusage:\n  npm run new -- "Title of the lesson" [--lessons folder]\n' });
    expect(option).toMatchObject({ code: 1, err: expect.stringMatching(/^there is no option --prot; the nearest is --port\nusage:\n {2}npm start -- .*\n$/) as unknown });
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

describe("README.md", () => {
  const text = readFileSync(join(HOME, "README.md"), "utf8");
  const block = (language: string): string => new RegExp(`^(\`{3,4})${language}\\n([^]*?)\\n\\1$`, "m").exec(text)?.[2] ?? "";
  const quoted = [...text.matchAll(/`([^`\n]+)`/g)].map((m) => m[1] as string).join("\n");

  test("shows a vehicle that a scenario file can hold", () => {
    const demo = readFileSync(join(HOME, "shared/scenario/demo.yaml"), "utf8");
    const occupants = /^ {2}occupants:\n(?: {4}.*\n| *\n)+/m.exec(demo)?.[0] ?? "";
    const show = demo.replace(/^a:\n(?: .*\n|\n|#(?! The second).*\n)*/m, `${block("yaml")}\n${occupants}`);
    expect(show).not.toBe(demo);
    const reading = parseScenario(show, "show.yaml");
    expect(reading).toMatchObject({ warnings: [] });
    // 1984 lb, 1 lb = 0.45359237 kg (NIST SP 811)
    expect("scenario" in reading && reading.scenario.a.mass.value).toBeCloseTo(1984 * 0.45359237, 9);
  });

  test("quotes the lesson that npm run new writes, line by line", () => {
    const folder = join(work, "readme");
    const made = newLesson("Light meets heavy", folder);
    expect(made).toHaveProperty("path");
    const lines = readFileSync(join(folder, "light-meets-heavy.md"), "utf8").split("\n");
    const shown = block("md").split("\n");
    expect(shown.length).toBeGreaterThan(3);
    expect(shown.filter((line) => !lines.includes(line))).toEqual([]);
  });

  test("names every container, link kind and key of the front matter", () => {
    expect(CONTAINERS.filter((name) => !new RegExp(`::: ${name}\\b`).test(quoted))).toEqual([]);
    expect([...LINK_SCHEMES, ...IMAGE_SCHEMES].filter((scheme) => !quoted.includes(`](${scheme}:`))).toEqual([]);
    // The reader's own list, as it answers an unknown key.
    const [, keys = ""] = /there are (.*)/.exec(readFrontMatter("---\nzzzzzzzzzzzzzzzzzzzz: 1\n---\n", "x.md").problems[0]?.message ?? "") ?? [];
    expect(keys.split(", ").length).toBeGreaterThan(5);
    expect(keys.split(", ").filter((key) => !quoted.split("\n").includes(key))).toEqual([]);
    expect(OPTIONS.filter((option) => !quoted.includes(`?${option}=`))).toEqual([]);
  });
});
