/** `daylap plan` while somebody watches: the line on the terminal, the budget, and Ctrl+C. */
import { spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { runCommand } from "../../src/cli/run-command.js";
import { onInterrupt, statusOn } from "../../src/cli/terminal.js";
import { parseCompany } from "../../src/domain/company-file.js";
import { planSchema } from "../../src/domain/plan-format.js";
import { present } from "../../src/domain/result.js";
import { civilDate } from "../../src/domain/time.js";
import { checkPlan } from "../../src/planner/check/check-plan.js";
import { aCompany, aCrew, aJob, aTask } from "../support/company-builder.js";
import { ROOT, runDaylap } from "../support/command.js";
import { bigCompany } from "../bench/big-company.js";

const AS_OF = ["--as-of", "2026-12-07T18:00"];
const FOR_EVER = [...AS_OF, "--iterations", "1000000000"];

/** Enough work that a search does not soon run out of tries, all of it possible. */
const SOURCE = bigCompany({
  crews: 8,
  jobs: 10,
  tasks: 120,
  firstDate: civilDate("2026-12-08"),
  days: 60,
  seed: 1,
});
const read = parseCompany(SOURCE);
const company = present(read.ok ? read.value : undefined, "a sound company");

let folder: string;
let busy: string;
let impossible: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "daylap-progress-"));
  busy = await write("busy.json", SOURCE);
  const crews = [aCrew(), aCrew({ id: "cedar", name: "Cedar", trades: { stone: 1 } })];
  const tasks = [aTask({ id: "t1", trade: "siding", crew: "cedar" }), aTask({ id: "t2", trade: "siding" })];
  impossible = await write("impossible.json", aCompany({ crews, jobs: [aJob({ tasks })] }));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

async function write(name: string, content: unknown): Promise<string> {
  const path = join(folder, name);
  await writeFile(path, JSON.stringify(content));
  return path;
}

/** Runs a command on a terminal of the test's own; Ctrl+C is pressed at the n-th status line, if at all. */
async function watch(args: readonly string[], pressAt = Infinity) {
  const lines: string[] = [];
  let out = "";
  let err = "";
  let press: () => void = () => undefined;
  let listeners = 0;
  const code = await runCommand(args, {
    out: (text) => (out += text),
    err: (text) => (err += text),
    status: (line) => {
      if (lines.push(line) === pressAt) press();
    },
    onInterrupt: (listener) => {
      press = listener;
      listeners += 1;
      if (pressAt === 0) press();
      return () => (listeners -= 1);
    },
  });
  return { code, out, err, lines, listeners };
}

describe("daylap plan on a terminal", () => {
  it("writes over one line how far it is, and takes it away before the plan", async () => {
    const { code, lines, err, listeners } = await watch(["plan", busy, ...AS_OF, "--milliseconds", "400"]);
    expect({ code, err, listeners }).toEqual({ code: 0, err: "", listeners: 0 });
    expect(lines.at(0)).toMatch(/^Improving the plan… [\d,]+ tr(y|ies), cost [\d,]+$/);
    expect(lines.at(-1)).toBe("");
  });

  it.each([1, 3])(
    "prints the best plan so far after Ctrl+C (at line %i), and ends with 0",
    async (pressAt) => {
      const { code, out, err, lines } = await watch(["plan", busy, ...FOR_EVER, "--json"], pressAt);
      expect(code).toBe(0);
      expect(checkPlan(company, planSchema.parse(JSON.parse(out)))).toEqual([]);
      expect(err).toBe("Planning was stopped before its end. This is the best plan so far.\n");
      expect(lines).toHaveLength(pressAt + 1);
    },
  );

  it("waits for the first plan where Ctrl+C came before it", async () => {
    const { code, out } = await watch(["plan", busy, ...FOR_EVER, "--json"], 0);
    expect(code).toBe(0);
    expect(planSchema.parse(JSON.parse(out)).tasks.length).toBeGreaterThan(0);
  });

  it("ends with 1 after Ctrl+C where a task is impossible", async () => {
    const { code, out } = await watch(["plan", impossible, ...FOR_EVER], 0);
    expect(code).toBe(1);
    expect(out).toContain("IMPOSSIBLE");
  });
});

describe("the budget of daylap plan", () => {
  it("in milliseconds gives a plan that keeps the rules, and shows nothing where standard error is no terminal", async () => {
    const { code, out, err } = await runDaylap("plan", busy, ...AS_OF, "--milliseconds", "300", "--json");
    expect({ code, err }).toEqual({ code: 0, err: "" });
    expect(checkPlan(company, planSchema.parse(JSON.parse(out)))).toEqual([]);
  });

  it.each([
    [["--iterations", "5", "--milliseconds", "5"], /--iterations and --milliseconds do not go together/],
    [["--milliseconds", "0"], /The option --milliseconds is "0"; it must be a whole number from 1 to /],
    [["--milliseconds", "1.5"], /The option --milliseconds is "1\.5"/],
    [["--iterations", "-1"], /The option --iterations needs a value/],
  ])("is refused as %j", async (words, sentence) => {
    const { code, out, err } = await watch(["plan", busy, ...words]);
    expect({ code, out }).toEqual({ code: 2, out: "" });
    expect(err).toMatch(sentence);
  });
});

describe("the line on a terminal", () => {
  it("is cut before the last column, so that it never wraps", () => {
    const written: string[] = [];
    const status = statusOn({ columns: 10, write: (text: string) => written.push(text) });
    status("0123456789abc");
    status("");
    expect(written).toEqual(["\r\u001B[2K012345678", "\r\u001B[2K"]);
  });

  it("is cut at 80 columns where nobody knows how many there are", () => {
    const written: string[] = [];
    statusOn({ columns: 0, write: (text: string) => written.push(text) })("x".repeat(100));
    expect(written).toEqual([`\r\u001B[2K${"x".repeat(79)}`]);
  });
});

it("Ctrl+C is listened for once: the second one finds nobody, and ends the process", () => {
  const before = process.rawListeners("SIGINT");
  let pressed = 0;
  onInterrupt(() => (pressed += 1));
  const mine = process.rawListeners("SIGINT").find((listener) => !before.includes(listener));
  mine?.call(process, "SIGINT");
  expect(pressed).toBe(1);
  expect(process.rawListeners("SIGINT")).toEqual(before);
});

// A real terminal for a process, from util-linux; other systems have another program of that name, or none.
const SCRIPT = "/usr/bin/script";
if (process.platform === "linux" && existsSync(SCRIPT)) {
  describe("daylap plan on a real terminal", () => {
    /** Presses Ctrl+C when the line shows; resolves to the exit code and all that the terminal showed. */
    function press(): Promise<{ code: number | null; shown: string }> {
      // The shell steps aside (exec): dash, left waiting between the two, would itself die of Ctrl+C and hide the code.
      const words = ["exec", process.execPath, join(ROOT, "dist/cli/daylap.js"), "plan", busy, ...FOR_EVER];
      const child = spawn(SCRIPT, ["-qec", words.join(" "), "/dev/null"], { stdio: "pipe" });
      let shown = "";
      let isPressed = false;
      child.stdout.setEncoding("utf8").on("data", (text: string) => {
        shown += text;
        if (isPressed || !shown.includes("Improving the plan…")) return;
        isPressed = true;
        child.stdin.write("\u0003");
      });
      return new Promise((resolve, reject) => {
        child.once("error", reject);
        child.once("close", (code) => resolve({ code, shown }));
      });
    }

    it("prints the best plan so far after Ctrl+C", async () => {
      const { code, shown } = await press();
      expect(code).toBe(0);
      expect(shown).toContain("This is the best plan so far.");
      expect(shown).toMatch(/COST[^]*Total/);
    });
  });
}
