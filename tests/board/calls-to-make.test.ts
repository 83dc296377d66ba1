/** What is said on the phone: to whom, about which dates, with which reason, and never about anybody else. */
import { describe, expect, it } from "vitest";
import { companySchema, type CompanyInput, type PublishedBlock } from "../../src/domain/company-schema.js";
import type { Because, Plan } from "../../src/domain/plan-format.js";
import { listCallsToMake, toCallBack, type CallFacts } from "../../src/board/calls-to-make.js";
import { buildReading, instantOf } from "../../src/board/reading.js";
import { findDifference } from "../../src/planner/ways-out/plan-difference.js";
import { readWork } from "../../src/planner/ways-out/planned-work.js";
import { COMPANY_INPUT, decemberPlan } from "./december-fixture.js";

type Blocks = Plan["blocks"];

/** The calls of publishing `now` where `before` was published. */
function callsOf(before: Blocks, now: Plan, input: CompanyInput = COMPANY_INPUT): readonly CallFacts[] {
  const published = before.map((block): PublishedBlock => ({ ...block, released: false }));
  const company = { ...companySchema.parse(input), published };
  const asOf = instantOf(now.asOf, "America/New_York");
  const difference = findDifference(
    company,
    readWork(company, published),
    readWork(company, now.blocks),
    asOf,
  );
  return listCallsToMake(buildReading(company, now), difference);
}

/** The fixture with the blocks and the task of a crew at a house on another day, for a reason. */
function moved(crew: string, job: string, day: string, because?: Partial<Because>): Plan {
  const plan = decemberPlan();
  const move = (text: string): string => text.replace(/12-\d\dT/, `12-${day}T`);
  return {
    ...plan,
    blocks: plan.blocks.map((block) =>
      block.crew === crew && block.job === job
        ? { ...block, start: move(block.start), end: move(block.end) }
        : block,
    ),
    tasks: plan.tasks.map((task) =>
      task.crew === crew && task.job === job
        ? { ...task, start: move(task.start), end: move(task.end), because: { ...task.because, ...because } }
        : task,
    ),
  };
}

describe("a homeowner", () => {
  it("hears which work begins when, instead of when, and why, without anybody else's name", () => {
    const now = moved("alder", "tern-14", "10", { kind: "crew-busy", by: { job: "gull-3", task: "open" } });
    const [call, ...others] = callsOf(decemberPlan().blocks, now);
    expect(others).toEqual([]);
    expect(call).toEqual({
      whom: "homeowner",
      subject: "tern-14",
      name: "Homeowner, 14 Tern Lane",
      dates: [{ what: "Siding (left side)", from: "2026-12-08", to: "2026-12-10" }],
      say: "Good afternoon, this is Tern Rock Exteriors. The siding (left side) at your house begins Thursday 10 December instead of Tuesday 8 December, because the crew is held up at another house.",
    });
  });

  it("hears no reason for an earlier day", () => {
    const later = moved("alder", "tern-14", "10").blocks;
    expect(callsOf(later, decemberPlan())[0]?.say).toBe(
      "Good afternoon, this is Tern Rock Exteriors. The siding (left side) at your house begins Tuesday 8 December instead of Thursday 10 December.",
    );
  });

  it("hears that work under way goes on, not that it begins", () => {
    const say = callsOf(decemberPlan().blocks, moved("cedar", "wharf-27", "11"))[0]?.say ?? "";
    expect(say).toContain("The stone at your house goes on Friday 11 December instead of Tuesday 8 December");
  });

  it("hears that there is no new date where there is none", () => {
    const plan = decemberPlan();
    const without = { ...plan, blocks: plan.blocks.filter(({ job }) => job !== "tern-14"), tasks: [] };
    expect(callsOf(plan.blocks, without)[0]?.say).toContain(
      "The siding (left side) at your house cannot be done on Tuesday 8 December as planned, and there is no new date yet.",
    );
  });

  it("hears the days where only the later ones have changed, and at most four sentences of news", () => {
    const plan = decemberPlan();
    const longer = plan.blocks.map((block) =>
      block.crew === "birch" && block.start >= "2026-12-08T12"
        ? {
            ...block,
            start: block.start.replace("12-08T", "12-09T"),
            end: block.end.replace("12-08T", "12-09T"),
          }
        : block,
    );
    expect(callsOf(longer, plan)[0]?.say).toContain(
      "We come to your house on Tuesday 8 December instead of Tuesday 8 December and Wednesday 9 December.",
    );
  });

  it("of no other house is ever named, whoever is behind it", () => {
    for (const kind of ["crew-busy", "equipment", "after-task", "hold", "delivery", "no-light"] as const) {
      const now = moved("alder", "tern-14", "10", { kind, by: { job: "gull-3", task: "open" } });
      const say = callsOf(decemberPlan().blocks, now).find(({ whom }) => whom === "homeowner")?.say ?? "";
      expect(say).not.toMatch(/Gull|Wharf|Pilot|Birch|Cedar|Noor/);
    }
  });
});

describe("a subcontractor", () => {
  const withSub: CompanyInput = {
    ...COMPANY_INPUT,
    crews: COMPANY_INPUT.crews.map((crew) => (crew.id === "alder" ? { ...crew, kind: "sub" } : crew)),
  };

  it("hears the houses and the days of its own work", () => {
    const call = callsOf(decemberPlan().blocks, moved("alder", "tern-14", "10"), withSub).at(-1);
    expect(call).toMatchObject({
      whom: "subcontractor",
      subject: "alder",
      name: "Alder (subcontractor), Noor",
      dates: [{ what: "14 Tern Lane", from: "2026-12-08", to: "2026-12-10" }],
    });
    expect(call?.say).toContain(
      "Your crew works at 14 Tern Lane on Thursday 10 December instead of Tuesday 8 December.",
    );
  });

  it("hears that it is not wanted where another crew does the work", () => {
    const plan = decemberPlan();
    const lent = {
      ...plan,
      blocks: plan.blocks.map((block) => (block.crew === "alder" ? { ...block, crew: "elm" } : block)),
    };
    expect(callsOf(plan.blocks, lent, withSub).at(-1)?.say).toContain(
      "Your crew does not work at 14 Tern Lane on Tuesday 8 December after all.",
    );
  });
});

describe("a supplier", () => {
  const waiting: CompanyInput = {
    ...COMPANY_INPUT,
    jobs: (COMPANY_INPUT.jobs ?? []).map((job) =>
      job.id === "gull-3"
        ? { ...job, deliveries: [{ id: "glass", what: "Three windows", expected: "2026-12-05" }] }
        : job,
    ),
  };

  it("hears by when a delivery that has not come is needed", () => {
    const call = callsOf(decemberPlan().blocks, moved("birch", "gull-3", "11"), waiting).at(-1);
    expect(call).toMatchObject({
      whom: "supplier",
      subject: "gull-3/glass",
      name: "Supplier of Three windows, 3 Gull Street",
      dates: [{ what: "Three windows", from: "2026-12-08", to: "2026-12-11" }],
    });
    expect(call?.say).toContain("on site by Friday 11 December instead of Tuesday 8 December.");
  });

  it("is not called about what has come", () => {
    const calls = callsOf(decemberPlan().blocks, moved("birch", "gull-3", "11"));
    expect(calls.map(({ whom }) => whom)).toEqual(["homeowner"]);
  });
});

it("who was told of a change that is taken back hears that the old date holds", () => {
  const [call] = callsOf(decemberPlan().blocks, moved("alder", "tern-14", "10"));
  expect(call && toCallBack("Tern Rock Exteriors", call)).toEqual({
    whom: "homeowner",
    subject: "tern-14",
    name: "Homeowner, 14 Tern Lane",
    dates: [{ what: "Siding (left side)", from: "2026-12-10", to: "2026-12-08" }],
    say: "Good afternoon, this is Tern Rock Exteriors again. The change that we told you of has been taken back. Siding (left side): Tuesday 8 December holds after all, and not Thursday 10 December.",
  });
});
