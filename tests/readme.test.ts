/**
 * The documents tell the truth: README.md's company file is one, its examples at the command line give what they show,
 * its table names every page, and every command, picture and file that README.md and DEVELOPERS.md name is there.
 */
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { existsSync, readFileSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { runCommand } from "../src/cli/run-command.js";
import { formatFault, parseCompany, parseCompanyText } from "../src/domain/company-file.js";
import { parseInstant } from "../src/domain/time.js";
import { present } from "../src/domain/result.js";
import { formatBroken } from "../src/planner/check/broken-rule.js";
import { checkPlan } from "../src/planner/check/check-plan.js";
import { planCompany } from "../src/planner/plan.js";
import { ACCESS, findAccess, type RouteName } from "../src/web/access.js";
import { ROUTES } from "../src/web/paths.js";

const ROOT = fileURLToPath(new URL("..", import.meta.url));
const readme = readFileSync(join(ROOT, "README.md"), "utf8");
const developers = readFileSync(join(ROOT, "DEVELOPERS.md"), "utf8");

/** The fenced blocks of a language, in order, without their fences. */
function listBlocks(text: string, language: string): readonly string[] {
  return [...text.matchAll(/^```(\w+)\n([\s\S]*?)^```$/gm)]
    .filter((match) => match[1] === language)
    .map((match) => match[2] ?? "");
}

const company = present(listBlocks(readme, "json")[0], "the company file in README.md");

describe("the company file in README.md", () => {
  it("is one, and all of it can be planned by the rules", () => {
    const parsed = parseCompanyText(company);
    expect(parsed.ok ? [] : parsed.error.map(formatFault)).toEqual([]);
    if (!parsed.ok) return;
    const asOf = present(parseInstant("2027-03-14T18:00", "America/New_York"), "the time");
    const plan = planCompany(parsed.value, { asOf, seed: 1, iterations: 1 });
    expect(plan.impossible).toEqual([]);
    expect(plan.tasks).toHaveLength(3);
    expect(checkPlan(parsed.value, plan).map(formatBroken)).toEqual([]);
  });

  it("has the faults that are shown, once it is spoiled as told", () => {
    const spoiled = company
      .replace('"laborHours": 9', '"laborHours": -9')
      .replace('"after": [{ "task": "wrap" }], "needs"', '"after": [{ "task": "wrp" }], "needs"');
    const parsed = parseCompany(JSON.parse(spoiled));
    const told = parsed.ok ? [] : parsed.error.map((fault) => `${formatFault(fault)}\n`);
    expect(told).toHaveLength(2);
    expect(listBlocks(readme, "text")).toContain(told.join(""));
  });
});

describe("the table of pages in README.md", () => {
  /** What answers to GET and is no page that a person opens: pictures, files, news for scripts, figures. */
  const NO_PAGES: ReadonlySet<RouteName> = new Set<RouteName>([
    "live",
    "crewLive",
    "planning",
    "movePrice",
    "crewReports",
    "crewPhoto",
    "crewSmallPhoto",
    "photo",
    "smallPhoto",
    "downloadCompany",
    "feed",
    "health",
    "ready",
    "metrics",
  ]);
  const table = /^\| page \| what it shows \|\n([\s\S]*?)\n\n/m.exec(readme)?.[1] ?? "";
  const named = [...table.matchAll(/^\| ([^|]*) \|/gm)].flatMap(([, cell = ""]) =>
    [...cell.matchAll(/`(\/[^`]*)`/g)].map(([, path = ""]) => path),
  );
  const gaps = (route: RouteName): number => ROUTES[route].split(":").length;
  /** The route that answers; of several the one with the fewest gaps, for "/crew/birch/photos" is no day. */
  const routeOf = (path: string): RouteName | undefined =>
    findAccess("GET", path)
      .map(({ row }) => row.route)
      .toSorted((one, other) => gaps(one) - gaps(other))[0];

  it("names every page, and nothing that is none", () => {
    const pages = ACCESS.flatMap(({ method, route }) =>
      method === "GET" && !NO_PAGES.has(route) ? [route] : [],
    );
    expect(named.map((path) => routeOf(path) ?? path).toSorted()).toEqual(pages.toSorted());
  });
});

describe("the command line in README.md", () => {
  let folder: string;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "daylap-readme-"));
    await writeFile(join(folder, "company.json"), company);
  });
  afterAll(() => rm(folder, { recursive: true, force: true }));

  /** Runs `npx daylap …` in a folder, with `> FILE` at its end or not, and gives back what a terminal would show. */
  async function runInFolder(line: string): Promise<string> {
    const [words = "", target] = line.replace(/^npx daylap /, "").split(" > ");
    const args = words.split(" ").map((word) => (word.endsWith(".json") ? join(folder, word) : word));
    let out = "";
    let err = "";
    await runCommand(args, { out: (text) => (out += text), err: (text) => (err += text) });
    if (target !== undefined) await writeFile(join(folder, target), out);
    return `${err}${target === undefined ? out : ""}`.replaceAll(join(folder, "/"), "");
  }

  it("prints what is shown", async () => {
    const examples = listBlocks(readme, "console").flatMap((block) => block.split(/^\$ /m).slice(1));
    expect(examples.length).toBeGreaterThan(0);
    for (const example of examples) {
      const [line = "", ...shown] = example.split("\n");
      expect(await runInFolder(line), line).toBe(shown.join("\n"));
    }
  });

  it("has the usage that is shown", async () => {
    expect(listBlocks(readme, "text")).toContain(await runInFolder("npx daylap --help"));
  });
});

describe.each([
  ["README.md", readme],
  ["DEVELOPERS.md", developers],
])("%s", (_name, text) => {
  it("names only npm scripts that there are", async () => {
    const manifest: unknown = JSON.parse(await readFile(join(ROOT, "package.json"), "utf8"));
    const scripts = new Set(Object.keys((manifest as { readonly scripts: object }).scripts));
    const named = [...text.matchAll(/(?<=^|`|&& |> )npm (?:run )?([a-z][a-z:]*)/gm)].map(
      (match) => match[1] ?? "",
    );
    expect(named.length).toBeGreaterThan(0);
    expect(named.filter((name) => name !== "ci" && !scripts.has(name))).toEqual([]);
  });

  it("names only commands of daylap that there are", async () => {
    const named = new Set([...text.matchAll(/npx daylap ([a-z-]+)/g)].map((match) => match[1] ?? ""));
    for (const command of named) {
      expect(
        await runCommand([command, "--help"], { out: () => undefined, err: () => undefined }),
        command,
      ).toBe(0);
    }
  });

  it("names only files and folders that there are", () => {
    const linked = [...text.matchAll(/\]\(([^)#]+)(?:#[^)]*)?\)|src="([^"]+)"/g)]
      .map((match) => match[1] ?? match[2] ?? "")
      .filter((path) => !path.startsWith("http"));
    const quoted = [...text.matchAll(/`((?:src|tests|views|seed|\.ci)\/[\w./-]*)`/g)].map(
      (match) => match[1] ?? "",
    );
    expect(linked.length + quoted.length).toBeGreaterThan(0);
    expect([...linked, ...quoted].filter((path) => !existsSync(join(ROOT, path)))).toEqual([]);
  });
});

it("a picture in README.md weighs at most 250 kB", () => {
  const pictures = [...readme.matchAll(/views\/static\/pictures\/[\w.-]+/g)].map((match) => match[0]);
  expect(pictures).toHaveLength(2);
  for (const path of pictures) expect(statSync(join(ROOT, path)).size, path).toBeLessThanOrEqual(250_000);
});
