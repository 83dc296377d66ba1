/**
 * The command line, as processes: exit codes, what goes to which stream, and that bad input leaves standard output empty.
 */
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { parseCompanyText } from "../../src/domain/company-file.js";
import { planSchema } from "../../src/domain/plan-format.js";
import { aCompany, aCrew, aJob, aTask } from "../support/company-builder.js";
import { runDaylap } from "../support/command.js";

const EVENING = "2026-12-07T18:00";

let folder: string;
let good: string;
let impossible: string;
let faulty: string;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "daylap-cli-"));
  const jobs = [aJob({ tasks: [aTask({ id: "t1", title: "Side the front", laborHours: 6 })] })];
  good = await write("good.json", aCompany({ jobs }));
  const crews = [aCrew(), aCrew({ id: "cedar", name: "Cedar", trades: { stone: 1 } })];
  const wrongCrew = [aJob({ tasks: [aTask({ id: "t1", trade: "siding", crew: "cedar" })] })];
  impossible = await write("impossible.json", aCompany({ crews, jobs: wrongCrew }));
  faulty = await write("faulty.json", { ...aCompany({ jobs }), crews: [aCrew({ size: 0 })], colour: "red" });
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe("daylap plan", () => {
  it("prints each crew's next day with its light, its blocks in order and the cost, and ends with 0", async () => {
    const { code, out, err } = await runDaylap("plan", good, "--as-of", EVENING);
    expect({ code, err }).toEqual({ code: 0, err: "" });
    expect(out).toContain("Tern Rock Exteriors: plan as of Monday 7 December, 6:00 pm (America/New_York)");
    expect(out).toContain("ALDER");
    expect(out).toContain("Tuesday 8 December");
    expect(out).toMatch(/first light 7:0\d am, last light 4:0\d pm, tools down/);
    expect(out).toMatch(/setup[^]*work +SD Side the front, 14 Spruce Lane[^]*cleanup[^]*COST[^]*Total/);
  });

  it("prints with --json a plan that reads as one, and the same text again for the same words", async () => {
    const words = ["plan", good, "--as-of", EVENING, "--json", "--seed", "7", "--iterations", "5"];
    const [first, second] = [await runDaylap(...words), await runDaylap(...words)];
    const plan = planSchema.parse(JSON.parse(first.out));
    expect(plan).toMatchObject({ asOf: "2026-12-07T18:00:00-05:00", seed: 7, iterations: 5 });
    expect(second.out).toBe(first.out);
  });

  it("reads --as-of with an offset as the instant that it is", async () => {
    const here = await runDaylap("plan", good, "--as-of", EVENING, "--json");
    const there = await runDaylap("plan", good, "--as-of=2026-12-07T23:00:00Z", "--json");
    expect(there.out).toBe(here.out);
  });

  it("plans from now where no --as-of is given", async () => {
    const before = Date.now();
    const { out } = await runDaylap("plan", good, "--json");
    const asOf = Date.parse(planSchema.parse(JSON.parse(out)).asOf);
    expect(asOf).toBeGreaterThan(before - 60_000);
    expect(asOf).toBeLessThanOrEqual(Date.now());
  });

  it("ends with 1 and says why where a task is impossible", async () => {
    const { code, out } = await runDaylap("plan", impossible, "--as-of", EVENING);
    expect(code).toBe(1);
    expect(out).toMatch(/IMPOSSIBLE\n {2}Side the front, 14 Spruce Lane: .+/);
  });
});

describe("daylap check", () => {
  it("ends with 0 for the plan that daylap plan made", async () => {
    const { out } = await runDaylap("plan", good, "--as-of", EVENING, "--json");
    const plan = await write("plan.json", JSON.parse(out));
    expect(await runDaylap("check", good, plan)).toMatchObject({ code: 0, err: "" });
  });

  it("ends with 1 and names the rule where the plan has been bent", async () => {
    const { out } = await runDaylap("plan", good, "--as-of", EVENING, "--json");
    const plan = planSchema.parse(JSON.parse(out));
    const bent = await write("bent.json", {
      ...plan,
      blocks: plan.blocks.filter(({ kind }) => kind !== "cleanup"),
    });
    const checked = await runDaylap("check", good, bent);
    expect(checked).toMatchObject({ code: 1, err: "" });
    expect(checked.out).toContain("Rule 9 (day's end)");
  });
});

describe("input that cannot be used ends with 2, empty standard output, and a sentence on standard error", () => {
  const missing = (): string => join(folder, "nowhere.json");
  it.each<readonly [string, () => readonly string[], RegExp]>([
    ["no command", () => [], /daylap plan FILE/],
    [
      "an unknown command",
      () => ["plann", good],
      /There is no command "plann"\. The commands are plan, check/,
    ],
    ["a plan without a file", () => ["plan"], /"daylap plan" needs a company file\./],
    ["an unknown option", () => ["plan", good, "--sed", "1"], /There is no option --sed for "daylap plan"\./],
    ["a short option", () => ["plan", good, "-x"], /There is no option -x for "daylap plan"\./],
    [
      "an option without its value",
      () => ["plan", good, "--seed"],
      /The option --seed needs a value: --seed N\./,
    ],
    ["an option for a value", () => ["plan", good, "--seed", "--json"], /The option --seed needs a value/],
    [
      "an option given twice",
      () => ["plan", good, "--seed", "1", "--seed=2"],
      /The option --seed is given twice\./,
    ],
    [
      "a value for a switch",
      () => ["plan", good, "--json=yes"],
      /The option --json takes no value, but "yes" is given\./,
    ],
    [
      "a seed that is no number",
      () => ["plan", good, "--seed", "x"],
      /The option --seed is "x"; it must be a whole number/,
    ],
    [
      "a date that is none",
      () => ["plan", good, "--as-of", "2026-02-30"],
      /The option --as-of is "2026-02-30", which is no time\./,
    ],
    ["one file too many", () => ["plan", good, good], /does not know what to do with/],
    [
      "a file that is not there",
      () => ["plan", missing()],
      /nowhere\.json cannot be read: there is no such file\./,
    ],
    [
      "a port out of range",
      () => ["serve", "--file", good, "--port", "70000"],
      /The option --port is "70000"/,
    ],
    ["--demo with --file", () => ["serve", "--demo", "--file", good], /--demo and --file do not go together/],
    ["a plan file that is no plan", () => ["check", good, good], /good\.json: format: /],
    [
      "a company file to serve that is not there",
      () => ["serve", "--file", missing()],
      /there is no such file/,
    ],
  ])("%s", async (_, words, sentence) => {
    const { code, out, err } = await runDaylap(...words());
    expect({ code, out }).toEqual({ code: 2, out: "" });
    expect(err).toMatch(sentence);
  });

  it("a company file with faults: every one of them with its path", async () => {
    for (const command of [
      ["plan", faulty],
      ["serve", "--file", faulty],
      ["check", faulty, good],
    ]) {
      const { code, out, err } = await runDaylap(...command);
      expect({ code, out }).toEqual({ code: 2, out: "" });
      expect(err).toMatch(/faulty\.json has 2 faults:\n/);
      expect(err).toContain("crews[0].size: ");
      expect(err).toContain("colour: ");
    }
  });
});

describe("daylap demo", () => {
  it("prints a company file without a fault, laid around the day asked for", async () => {
    const { code, out } = await runDaylap("demo", "--as-of", EVENING);
    expect(code).toBe(0);
    const company = parseCompanyText(out);
    expect(company.ok).toBe(true);
    expect(out).not.toContain('"@');
    expect(out).toContain('"2026-12-09T00:00"');
  });
});

describe("daylap schema", () => {
  it("prints the JSON Schema of a company file", async () => {
    const { code, out } = await runDaylap("schema");
    expect(code).toBe(0);
    expect(JSON.parse(out)).toMatchObject({
      $schema: "https://json-schema.org/draft/2020-12/schema",
      type: "object",
    });
  });
});

describe("daylap --help", () => {
  it("names every command and ends with 0", async () => {
    const { code, out } = await runDaylap("--help");
    expect(code).toBe(0);
    for (const name of ["plan", "check", "serve", "demo", "schema"]) expect(out).toContain(`daylap ${name}`);
  });
});

it("the command that package.json promises is there, and can be run by itself", async () => {
  const packed = await readFile(new URL("../../package.json", import.meta.url), "utf8");
  expect(JSON.parse(packed)).toMatchObject({ bin: { daylap: "dist/cli/daylap.js" } });
  const program = await readFile(new URL("../../dist/cli/daylap.js", import.meta.url), "utf8");
  expect(program.startsWith("#!/usr/bin/env node\n")).toBe(true);
});

async function write(name: string, content: unknown): Promise<string> {
  const path = join(folder, name);
  await writeFile(path, JSON.stringify(content));
  return path;
}
