/** A task moved by hand: it goes where it is wished, everything else is planned around it, or a rule is named that forbids it. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { CompanyInput } from "../../../src/domain/company-schema.js";
import { present } from "../../../src/domain/result.js";
import { addDays, civilDate, civilDateAt, parseInstant } from "../../../src/domain/time.js";
import { formatBroken } from "../../../src/planner/check/broken-rule.js";
import { checkPlan } from "../../../src/planner/check/check-plan.js";
import type { MoveRefusal, MoveWish } from "../../../src/planner/moving/move-refusal.js";
import { moveTask } from "../../../src/planner/moving/move-task.js";
import { planCompany } from "../../../src/planner/plan.js";
import { applyEdits } from "../../../src/planner/ways-out/company-edits.js";
import { anyCompany } from "../../support/company-arbitrary.js";
import { aCompany, aCrew, aJob, aTask, aWait, parsed } from "../../support/company-builder.js";
import { propertySeed } from "../../support/property-seed.js";
import { minuteOf, workOf } from "../planned.js";

/** Tuesday to Friday. */
const [TUE, WED, THU, FRI] = ["2027-03-16", "2027-03-17", "2027-03-18", "2027-03-19"].map(civilDate) as [
  ReturnType<typeof civilDate>,
  ReturnType<typeof civilDate>,
  ReturnType<typeof civilDate>,
  ReturnType<typeof civilDate>,
];

/** Alder sides two houses, a day's work each; Birch could as well, and has nothing to do; Cedar does stone. */
function twoHouses(overrides: Partial<CompanyInput> = {}): CompanyInput {
  const hours = 18;
  return aCompany({
    crews: [
      aCrew(),
      aCrew({ id: "birch", name: "Birch", trades: { siding: 0.5, stone: 1 } }),
      aCrew({ id: "cedar", name: "Cedar", trades: { stone: 1 }, size: 1 }),
    ],
    jobs: [
      aJob({
        tasks: [
          aTask({ laborHours: hours, crew: "alder" }),
          aTask({
            id: "t2",
            title: "Side the back",
            laborHours: hours,
            crew: "alder",
            after: [{ task: "t1" }],
          }),
        ],
      }),
      aJob({
        id: "cove-3",
        name: "3 Cove Street",
        promised: WED,
        tasks: [aTask({ id: "c1", title: "Side the porch", laborHours: hours, crew: "alder" })],
      }),
    ],
    ...overrides,
  });
}

function move(input: CompanyInput, wish: Partial<MoveWish>) {
  const company = parsed(input);
  const asOf = minuteOf(company, "2027-03-16T00:00");
  const standing = planCompany(company, { asOf, seed: 1, iterations: 200 });
  const whole: MoveWish = {
    job: "spruce-14",
    task: "t1",
    crew: "alder",
    date: TUE,
    place: { kind: "first" },
    ...wish,
  };
  const moved = moveTask(company, { asOf, seed: 1, standing }, whole);
  return { company, standing, moved };
}

function planAfter(input: CompanyInput, wish: Partial<MoveWish>) {
  const { company, moved, standing } = move(input, wish);
  if (!moved.ok) throw new Error(JSON.stringify(moved.error));
  const after = applyEdits(company, moved.value.edits);
  const plan = moved.value.explain();
  expect(checkPlan(after, plan).map(formatBroken)).toEqual([]);
  return { plan, standing, value: moved.value };
}

function refusalOf(input: CompanyInput, wish: Partial<MoveWish>): MoveRefusal {
  const { moved } = move(input, wish);
  if (moved.ok) throw new Error("it was not refused");
  return moved.error;
}

describe("a task that is moved", () => {
  it("begins on the day and with the crew that were wished; what came after it on its crew's line moves up", () => {
    const { plan, value } = planAfter(twoHouses(), { job: "cove-3", task: "c1", crew: "birch", date: WED });
    expect(workOf(plan, "c1")[0]).toMatch(/^birch Wed 17 Mar/);
    expect(workOf(plan, "t1")[0]).toMatch(/^alder Tue 16 Mar/);
    expect(workOf(plan, "t2")[0]).toMatch(/^alder Tue 16 Mar|^alder Wed 17 Mar/);
    expect(value.edits).toEqual([
      { kind: "name-crew", job: "cove-3", task: "c1", crew: "birch" },
      { kind: "not-before", job: "cove-3", task: "c1", date: WED },
    ]);
  });

  it("goes before a task that its crew had first, which then waits", () => {
    const input = twoHouses();
    const standing = move(input, {}).standing;
    const firstTask = present(standing.blocks.find(({ kind }) => kind === "work")?.task, "work");
    const [own, other] =
      firstTask === "t1"
        ? [
            { job: "cove-3", task: "c1" },
            { job: "spruce-14", task: "t1" },
          ]
        : [
            { job: "spruce-14", task: "t1" },
            { job: "cove-3", task: "c1" },
          ];
    const { plan } = planAfter(input, { ...own, place: { kind: "before", ...other } });
    const first = plan.blocks.find(({ kind }) => kind === "work");
    expect(first?.task).toBe(own.task);
  });

  it("takes the place of a day before which it was not to start", () => {
    const input = twoHouses();
    const job = present(input.jobs?.[1], "a house");
    const tasks = [aTask({ id: "c1", laborHours: 6, crew: "alder", notBefore: FRI })];
    const later = { ...input, jobs: [present(input.jobs?.[0], "a house"), { ...job, tasks }] };
    const { plan } = planAfter(later, { job: "cove-3", task: "c1", date: THU });
    expect(workOf(plan, "c1")[0]).toMatch(/^alder Thu 18 Mar/);
  });

  it("tells which promised date it breaks and what the plan costs before and after", () => {
    const { value, standing } = planAfter(twoHouses(), { job: "cove-3", task: "c1", date: FRI });
    expect(value.costBefore).toBe(standing.cost.total);
    expect(value.costAfter).toBeGreaterThan(value.costBefore);
    expect(value.costAfter).toBe(value.explain().cost.total);
    expect(value.difference.promises).toMatchObject([
      { job: "cove-3", lateBefore: 0, lateAfter: 2, kind: "broken" },
    ]);
  });
});

describe("a wish is refused, with the rule that forbids it", () => {
  const [house] = twoHouses().jobs ?? [];
  const withFirstTask = (task: Partial<Parameters<typeof aTask>[0]>): CompanyInput =>
    twoHouses({ jobs: [{ ...present(house, "a house"), tasks: [aTask({ laborHours: 18, ...task })] }] });

  it.each<[string, CompanyInput, Partial<MoveWish>, MoveRefusal]>([
    [
      "done work",
      withFirstTask({
        status: "done",
        doneBy: "alder",
        startedAt: "2027-03-12T08:00",
        finishedAt: "2027-03-12T12:00",
      }),
      {},
      { kind: "done" },
    ],
    [
      "work under way",
      withFirstTask({ status: "under-way", doneBy: "alder", startedAt: "2027-03-12T08:00" }),
      { date: WED },
      { kind: "under-way", crew: "alder" },
    ],
    ["a task that there is not", twoHouses(), { task: "t9" }, { kind: "no-such-task" }],
    ["a crew that there is not", twoHouses(), { crew: "elm" }, { kind: "no-such-crew", crew: "elm" }],
    [
      "a day gone by",
      twoHouses(),
      { date: civilDate("2027-03-15") },
      { kind: "past", date: civilDate("2027-03-15") },
    ],
    [
      "a crew without the trade",
      twoHouses(),
      { crew: "cedar" },
      { kind: "lacks-trade", trade: "siding", able: ["alder", "birch"] },
    ],
    [
      "a crew that is too small",
      withFirstTask({ trade: "stone", minCrew: 2 }),
      { crew: "cedar" },
      { kind: "too-small", size: 1, least: 2 },
    ],
    [
      "a day without a shift",
      twoHouses(),
      { date: civilDate("2027-03-20") },
      { kind: "no-shift", date: civilDate("2027-03-20") },
    ],
    [
      "beside itself",
      twoHouses(),
      { place: { kind: "after", job: "spruce-14", task: "t1" } },
      { kind: "as-it-is" },
    ],
  ])("%s", (_name, input, wish, refusal) => {
    expect(refusalOf(input, wish)).toEqual(refusal);
  });

  it("a wait, which no crew works", () => {
    const input = twoHouses({ jobs: [aJob({ tasks: [aTask(), aWait({ after: [{ task: "t1" }] })] })] });
    expect(refusalOf(input, { task: "w1" })).toEqual({ kind: "wait" });
  });

  it("a day on which the crew is off", () => {
    const input = twoHouses({
      crews: [aCrew({ off: [{ from: WED, to: WED, why: "training" }] })],
      jobs: [aJob({ tasks: [aTask()] })],
    });
    expect(refusalOf(input, { date: WED })).toEqual({ kind: "crew-off", date: WED, why: "training" });
  });

  it("a day before what it follows is over, with when that is", () => {
    const tasks = [
      aTask({ laborHours: 30 }),
      aTask({ id: "t2", title: "Side the back", after: [{ task: "t1" }] }),
    ];
    const refusal = refusalOf(twoHouses({ jobs: [aJob({ tasks })] }), { task: "t2", date: TUE });
    expect(refusal).toMatchObject({ kind: "comes-after", job: "spruce-14", task: "t1" });
  });

  it("a day on which it is on hold, with what holds it", () => {
    const holds = [
      { id: "wet", from: WED, to: THU, trades: "outdoor" as const, jobs: "all" as const, why: "rain" },
    ];
    const refusal = refusalOf(twoHouses({ holds, jobs: [aJob({ tasks: [aTask()] })] }), { date: WED });
    expect(refusal).toMatchObject({ kind: "not-then", start: THU, crew: "alder" });
    expect(refusal.kind === "not-then" ? refusal.kinds : []).toEqual(["hold"]);
  });

  it("work on a day sheet that is published and held, and what would push such work away", () => {
    const later = aJob({
      id: "ledge-9",
      name: "9 Ledge Road",
      tasks: [aTask({ id: "d1", title: "Side the gable", laborHours: 12, crew: "alder", notBefore: FRI })],
    });
    const input = twoHouses({ jobs: [...(twoHouses().jobs ?? []), later] });
    const company = parsed(input);
    const asOf = minuteOf(company, "2027-03-16T00:00");
    const { blocks } = planCompany(company, { asOf, seed: 1, iterations: 200 });
    const published = { ...input, published: blocks };
    const first = present(
      blocks.find(({ kind }) => kind === "work"),
      "work",
    );
    const [job, task] = [first.job ?? "", first.task ?? ""];
    const away = { job, task, crew: "birch", date: THU };
    expect(refusalOf(published, away)).toEqual({ kind: "sheet-held", crew: "alder", date: TUE });
    const pushing = { job: "ledge-9", task: "d1", date: TUE };
    expect(refusalOf(published, pushing)).toMatchObject({ kind: "holds-other", crew: "alder" });
    const released = { ...input, published: blocks.map((block) => ({ ...block, released: true })) };
    for (const wish of [away, pushing]) expect(move(released, wish).moved.ok).toBe(true);
  });

  it("where it is already", () => {
    const input = twoHouses({ jobs: [aJob({ tasks: [aTask({ laborHours: 3, crew: "alder" })] })] });
    expect(refusalOf(input, {})).toEqual({ kind: "as-it-is" });
  });
});

it("whatever is wished of any company, the plan after it is by the rules and has the wish in it, or the wish is refused", () => {
  let kept = 0;
  fc.assert(
    fc.property(
      anyCompany(),
      fc.nat(),
      fc.nat(),
      fc.nat({ max: 9 }),
      fc.constantFrom("first" as const, "last" as const),
      ({ company, asOf }, taskPick, crewPick, ahead, kind) => {
        const standing = planCompany(company, { asOf, seed: 7, iterations: 1 });
        const tasks = standing.tasks.filter(({ crew }) => crew !== null);
        const entry = tasks[taskPick % Math.max(1, tasks.length)];
        const crew = company.crews[crewPick % company.crews.length];
        if (entry === undefined || crew === undefined) return;
        const zone = company.company.timeZone;
        const start = present(parseInstant(entry.start, zone), "a start");
        const date = addDays(civilDateAt(Math.max(asOf, start), zone), ahead);
        const wish: MoveWish = { job: entry.job, task: entry.task, crew: crew.id, date, place: { kind } };
        const moved = moveTask(company, { asOf, seed: 7, standing }, wish);
        if (!moved.ok) return;
        kept += 1;
        const plan = moved.value.explain();
        expect(checkPlan(applyEdits(company, moved.value.edits), plan).map(formatBroken)).toEqual([]);
        const after = present(
          plan.tasks.find(({ job, task }) => job === wish.job && task === wish.task),
          "the moved task",
        );
        expect(after.crew).toBe(wish.crew);
        expect(civilDateAt(present(parseInstant(after.start, zone), "its start"), zone)).toBe(date);
        expect(plan.cost.total).toBeCloseTo(moved.value.costAfter, 6);
        expect(plan.impossible.length).toBeLessThanOrEqual(standing.impossible.length);
      },
    ),
    { numRuns: 200, seed: propertySeed(20_261_210) },
  );
  expect(kept).toBeGreaterThan(20);
}, 120_000);
