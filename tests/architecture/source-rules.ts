/**
 * The rules that keep the house in order, as functions of a file's path and text: what is imported from where, what a
 * pure room must not touch, how long a file may be. Reads text, not a syntax tree: the import statements of this
 * project are plain enough, and a rule that can be read in one line is one that people trust.
 */

export interface SourceFile {
  /** From src: `planner/core/search.ts`. */
  readonly path: string;
  readonly text: string;
}

export interface Import {
  /** As written: `../domain/time.js`, `luxon`, `node:fs`. */
  readonly from: string;
  /** From src, with `.ts`, where the import stays in the house; undefined for a package. */
  readonly target: string | undefined;
}

/** From top to bottom: a room imports from itself and from those before it. */
export const ROOMS = [
  "domain",
  "daylight",
  "weather",
  "planner",
  "board",
  "store",
  "services",
  "web",
  "cli",
] as const;

/** main.ts stands below all rooms. */
const BELOW_ALL = ROOMS.length;

const PURE_ROOMS: ReadonlySet<string> = new Set(["domain", "daylight", "weather", "planner", "board"]);

/** Packages that have one importer, and who that is. */
const KEPT_PACKAGES: Readonly<Record<string, (path: string) => boolean>> = {
  luxon: (path) => path === "domain/time.ts",
  suncalc: (path) => path.startsWith("daylight/"),
  "date-holidays": (path) => path === "domain/holidays.ts",
  "countries-and-timezones": (path) => path === "domain/holidays.ts",
};

const IMPORT =
  /^\s*(?:import|export)\b[^"'`;]*?\bfrom\s*["']([^"']+)["']|^\s*import\s*["']([^"']+)["']|\bimport\s*\(\s*["']([^"']+)["']\s*\)/gm;

/** Every import, re-export and dynamic import of a file. */
export function listImports(file: SourceFile): Import[] {
  return [...withoutComments(file.text).matchAll(IMPORT)].map((match) => {
    const from = match[1] ?? match[2] ?? match[3] ?? "";
    return { from, target: from.startsWith(".") ? resolvePath(file.path, from) : undefined };
  });
}

/** Imports that climb down the list of rooms, or leave src. */
export function checkDirection(file: SourceFile): string[] {
  const mine = rankOf(file.path);
  const faults: string[] = mine === -1 ? [`${file.path} lies in no room of the house`] : [];
  for (const { from, target } of listImports(file)) {
    if (target === undefined) continue;
    if (rankOf(target) === -1)
      faults.push(`${file.path} imports ${from}, which lies in no room of the house`);
    else if (rankOf(target) > mine)
      faults.push(`${file.path} imports ${from}, which lies in a room below it`);
  }
  return faults;
}

const BANS: readonly (readonly [what: string, pattern: RegExp])[] = [
  ["process", /\bprocess\s*(?:\.|\[)|\bprocess\s*[,;)]/],
  ["fetch", /\bfetch\s*\(/],
  ["console", /\bconsole\s*\./],
  ["Date.now()", /\bDate\s*\.\s*now\b/],
  ["new Date() without an argument", /\bnew\s+Date\s*(?:\(\s*\)|(?![\s(\w]))|\bDate\s*\(\s*\)/],
  ["Math.random", /\bMath\s*\.\s*random\b/],
  ["performance.now", /\bperformance\s*\./],
  ["globalThis", /\bglobalThis\b/],
];

/** What a pure room touches and must not: the machine, the network, the clock, chance. */
export function checkPurity(file: SourceFile): string[] {
  if (!PURE_ROOMS.has(roomOf(file.path))) return [];
  const code = withoutComments(file.text);
  const faults = BANS.filter(([, pattern]) => pattern.test(withoutStrings(code))).map(
    ([what]) => `${file.path} uses ${what}, and ${roomOf(file.path)} is pure`,
  );
  const nodeImports = listImports(file).filter(({ from }) => isNodeModule(from));
  return [
    ...faults,
    ...nodeImports.map(({ from }) => `${file.path} imports ${from}, and ${roomOf(file.path)} is pure`),
  ];
}

/** The core of the planner stands alone, and no part of the planner needs a package. */
export function checkPlanner(file: SourceFile): string[] {
  if (roomOf(file.path) !== "planner") return [];
  return listImports(file).flatMap(({ from, target }) => {
    if (target === undefined) return [`${file.path} imports the package ${from}`];
    const leavesCore = file.path.startsWith("planner/core/") && !target.startsWith("planner/core/");
    return leavesCore ? [`${file.path} imports ${from}, and planner/core stands alone`] : [];
  });
}

/** Packages that only one file or room may import. */
export function checkKeptPackages(file: SourceFile): string[] {
  return listImports(file).flatMap(({ from, target }) => {
    const allowed = target === undefined ? KEPT_PACKAGES[packageOf(from)] : undefined;
    return allowed === undefined || allowed(file.path)
      ? []
      : [`${file.path} imports ${from}, which is kept elsewhere`];
  });
}

export const MOST_LINES = 400;

export function checkLength(file: SourceFile): string[] {
  const lines = file.text.replace(/\n$/, "").split("\n").length;
  return lines > MOST_LINES ? [`${file.path} has ${lines} lines, more than ${MOST_LINES}`] : [];
}

/** A file that only passes on what others export hides where things live. */
export function checkReExports(file: SourceFile): string[] {
  const code = withoutComments(file.text);
  const passedOn = /\bexport\s*(?:type\s*)?(?:\*(?:\s*as\s+\w+)?|\{[^}]*\})\s*from\s*["'][^"']+["']\s*;?/g;
  if (!passedOn.test(code)) return [];
  const rest = code
    .replace(passedOn, "")
    .replace(/\bimport\b[^;]*;/g, "")
    .trim();
  return rest === "" ? [`${file.path} only passes on what other files export`] : [];
}

/** A header comment at the top of each file (after a `#!` line). */
export function checkHeader(file: SourceFile): string[] {
  return /^(?:#!.*\n)?\/\*\*/.test(file.text) ? [] : [`${file.path} has no header comment`];
}

function rankOf(path: string): number {
  if (path === "main.ts") return BELOW_ALL;
  return ROOMS.findIndex((room) => path.startsWith(`${room}/`));
}

function roomOf(path: string): string {
  return path.split("/")[0] ?? "";
}

function packageOf(from: string): string {
  const parts = from.split("/");
  return from.startsWith("@") ? parts.slice(0, 2).join("/") : (parts[0] ?? "");
}

function isNodeModule(from: string): boolean {
  return (
    from.startsWith("node:") ||
    ["fs", "path", "crypto", "os", "child_process", "http"].includes(packageOf(from))
  );
}

/** `../domain/time.js` seen from `web/app.ts` is `domain/time.ts`; climbing out of src keeps its `..`. */
function resolvePath(path: string, from: string): string {
  const parts = path.split("/").slice(0, -1);
  for (const step of from.split("/")) {
    if (step === "..") {
      if (parts.length === 0 || parts.at(-1) === "..") parts.push("..");
      else parts.pop();
    } else if (step !== ".") parts.push(step);
  }
  return parts.join("/").replace(/\.js$/, ".ts");
}

/** Comments blanked out, strings kept: a comment may name what it forbids. */
function withoutComments(text: string): string {
  return text.replace(
    /("(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])*')|\/\*[\s\S]*?\*\/|\/\/[^\n]*/g,
    (_, string: string | undefined) => string ?? " ",
  );
}

function withoutStrings(code: string): string {
  return code.replace(/"(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])*'/g, '""');
}
