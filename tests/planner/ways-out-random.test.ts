/**
 * What holds for every way out of every slip of every company: 120 random companies, each with a random slip, half of
 * them with something published.
 */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Company } from "../../src/domain/company-schema.js";
import type { Plan, PlanBlock } from "../../src/domain/plan-format.js";
import { present } from "../../src/domain/result.js";
import { civilDate, civilDateAt, daysBetween, parseInstant, type Minute } from "../../src/domain/time.js";
import { formatBroken } from "../../src/planner/check/broken-rule.js";
import { checkPlan } from "../../src/planner/check/check-plan.js";
import { mayWork } from "../../src/planner/compile/staffing.js";
import { planCompany } from "../../src/planner/plan.js";
import { listDatesAhead, listSaturdaysAhead, listWaysOut, planWish } from "../../src/planner/ways-out.js";
import { applyEdits } from "../../src/planner/ways-out/company-edits.js";
import { isNoBetter, type WayOut, type WaysOutOptions } from "../../src/planner/ways-out/way-out.js";
import type { Wish } from "../../src/planner/ways-out/wishes.js";
import { anyCompanyFile } from "../support/company-arbitrary.js";
import { parsed } from "../support/company-builder.js";
import { propertySeed } from "../support/property-seed.js";
import { anySlip, slip, slipKinds, type SlipChoice } from "./ways-out-slips.js";

const CASES = 120;
const MOST_SECONDS = 240_000;

interface Case {
  readonly choice: SlipChoice;
  readonly company: Company;
  readonly options: WaysOutOptions;
  readonly ways: readonly WayOut[];
}

const sample = fc.sample(
  fc.record({
    file: anyCompanyFile(),
    choice: anySlip,
    isPublished: fc.boolean(),
    resequence: fc.boolean(),
    lend: fc.boolean(),
    stretchDays: fc.constantFrom(0, 7),
    saturdays: fc.constantFrom(0, 2),
  }),
  { numRuns: CASES, seed: propertySeed(20_270_320) },
);

let known: readonly Case[] | undefined;

/** Planned once, read by several rules. */
function listCases(): readonly Case[] {
  known ??= sample.flatMap(
    ({ file, choice, isPublished, resequence, lend, stretchDays, saturdays }, index): Case[] => {
      const { asOf } = file;
      const before = parsed(file.input);
      const standing = planCompany(before, { asOf, seed: 3, iterations: 4 });
      const input = isPublished ? { ...file.input, published: standing.blocks } : file.input;
      const slipped = slip(input, asOf, choice);
      if (slipped === null) return [];
      const company = parsed(slipped);
      const permissions = {
        resequence,
        lend,
        stretch: listDatesAhead(company, asOf, stretchDays),
        saturday: listSaturdaysAhead(company, asOf, saturdays),
      };
      const options = { asOf, seed: index, iterations: 12, standing, permissions };
      return [{ choice, company, options, ways: listWaysOut(company, options) }];
    },
  );
  return known;
}

function forEachCase(rule: (one: Case) => void): void {
  listCases().forEach((one, index) => {
    try {
      rule(one);
    } catch (error) {
      throw new Error(`case ${index} (${one.choice.kind}): ${error instanceof Error ? error.message : ""}`, {
        cause: error,
      });
    }
  });
}

const nameOf = ({ job, task }: { readonly job: string | null; readonly task: string | null }): string =>
  `${job ?? ""}/${task ?? ""}`;

function minute(company: Company, iso: string): Minute {
  return present(parseInstant(iso, company.company.timeZone), iso);
}

/** By task, `crew date` of its work in order; of days gone by only where there are no others, and then the last. */
function daysOfWork(company: Company, asOf: Minute, blocks: readonly PlanBlock[]): Map<string, string[]> {
  const zone = company.company.timeZone;
  const today = civilDateAt(asOf, zone);
  const all = new Map<string, Set<string>>();
  for (const block of blocks.filter(({ kind }) => kind === "work")) {
    const date = civilDateAt(minute(company, block.start), zone);
    all.set(nameOf(block), (all.get(nameOf(block)) ?? new Set()).add(`${date} ${block.crew}`));
  }
  return new Map(
    [...all].map(([name, days]) => {
      const sorted = [...days].sort();
      const coming = sorted.filter((day) => day.slice(0, 10) >= today);
      return [name, coming.length > 0 ? coming : sorted.slice(-1)];
    }),
  );
}

/** What is published; for tasks that it does not have, the standing plan. */
function reference(company: Company, standing: Plan): readonly PlanBlock[] {
  const published = company.published ?? [];
  const worked = new Set(published.filter(({ kind }) => kind === "work").map(nameOf));
  return [
    ...published.map((block) => ({ ...block, units: null })),
    ...standing.blocks.filter((block) => !worked.has(nameOf(block))),
  ];
}

function firstStarts(company: Company, plan: Plan): Map<string, { crew: string; start: Minute }> {
  const starts = new Map<string, { crew: string; start: Minute }>();
  for (const block of plan.blocks.filter(({ kind }) => kind === "work")) {
    const start = minute(company, block.start);
    const found = starts.get(nameOf(block));
    if (!found || start < found.start) starts.set(nameOf(block), { crew: block.crew, start });
  }
  return starts;
}

describe("every way out of 120 random slips", () => {
  it(
    "is a plan that breaks no rule of the company with its permissions in it",
    () => {
      let count = 0;
      forEachCase(({ company, ways }) => {
        for (const way of ways) {
          expect(checkPlan(way.company, way.explain()).map(formatBroken)).toEqual([]);
          expect(applyEdits(company, way.edits)).toEqual(way.company);
          count += 1;
        }
      });
      expect(count).toBeGreaterThan(CASES);
    },
    MOST_SECONDS,
  );

  it("is of every kind of slip and of every kind of way", () => {
    expect(new Set(listCases().map(({ choice }) => choice.kind))).toEqual(new Set(slipKinds));
    const kinds = new Set(listCases().flatMap(({ ways }) => ways.flatMap((way) => way.kinds)));
    expect(kinds).toEqual(new Set(["hold", "resequence", "lend", "stretch", "saturday"]));
  });

  it("makes use of what is permitted, and of nothing else", () => {
    forEachCase(({ ways, company, options: { permissions } }) => {
      for (const { kinds, permissionsUsed, crewHoursUsed, crewHoursGained } of ways) {
        if (kinds.includes("resequence")) expect(permissions.resequence).toBe(true);
        expect(kinds.includes("lend")).toBe(
          permissions.lend && permissionsUsed.some(({ kind }) => kind === "lend"),
        );
        expect(kinds.includes("stretch")).toBe(permissionsUsed.some(({ kind }) => kind === "stretch"));
        expect(kinds.includes("saturday")).toBe(permissionsUsed.some(({ kind }) => kind === "saturday"));
        for (const use of permissionsUsed) {
          if (use.kind === "lend") continue;
          expect(permissions[use.kind]).toContain(use.date);
          expect(company.crews.find(({ id }) => id === use.crew)?.kind).toBe("own");
          expect(use.usedMinutes).toBeGreaterThan(0);
          expect(use.usedMinutes).toBeLessThanOrEqual(use.minutes);
        }
        expect(crewHoursUsed).toBeLessThanOrEqual(crewHoursGained);
      }
    });
  });

  it("comes again to the byte", () => {
    for (const { company, options, ways } of listCases().slice(0, 25)) {
      const again = listWaysOut(company, options);
      expect(again.map((way) => [way.key, JSON.stringify(way.explain())])).toEqual(
        ways.map((way) => [way.key, JSON.stringify(way.explain())]),
      );
    }
  });

  it("is in some figure better than each of the others, hold the order excepted", () => {
    forEachCase(({ ways }) => {
      expect(ways[0]?.kinds).toEqual(["hold"]);
      expect(new Set(ways.map(({ key }) => key)).size).toBe(ways.length);
      for (const way of ways.slice(1))
        for (const other of ways)
          if (other !== way)
            expect([way.key, other.key, isNoBetter(way.figures, other.figures)]).toEqual([
              way.key,
              other.key,
              false,
            ]);
    });
  });
});

describe("hold the order", () => {
  it("keeps every crew's tasks and their order", () => {
    let compared = 0;
    forEachCase(({ company, options: { standing }, ways }) => {
      const [held] = ways;
      if (!held) return;
      const before = firstStarts(company, standing);
      const after = firstStarts(company, held.explain());
      const lines = new Map<string, { name: string; before: Minute; after: Minute }[]>();
      for (const [name, { crew, start }] of before) {
        const now = after.get(name);
        const task = company.jobs.flatMap((job) =>
          job.tasks.filter(({ id }) => `${job.id}/${id}` === name),
        )[0];
        if (!now || !task) continue;
        const may = company.crews.some((one) => one.id === crew && mayWork(one, task));
        expect([name, now.crew, may]).toEqual([name, crew, true]);
        lines.set(crew, [...(lines.get(crew) ?? []), { name, before: start, after: now.start }]);
      }
      for (const line of lines.values()) {
        const inOrder = line.toSorted((a, b) => a.before - b.before);
        for (const [place, one] of inOrder.entries()) {
          const next = inOrder[place + 1];
          if (!next || next.before === one.before) continue;
          expect([one.name, next.name, one.after <= next.after]).toEqual([one.name, next.name, true]);
          compared += 1;
        }
      }
    });
    expect(compared).toBeGreaterThan(CASES);
  });

  it("moves nothing where nothing has happened", () => {
    for (const { file } of sample.slice(0, 60)) {
      const { asOf } = file;
      const company = parsed({ ...file.input, published: null });
      const standing = planCompany(company, { asOf, seed: 3, iterations: 4 });
      const permissions = { resequence: false, lend: false, stretch: [], saturday: [] };
      const [held] = listWaysOut(company, { asOf, seed: 1, standing, permissions });
      const work = (plan: Plan | undefined): string[] =>
        (plan?.blocks ?? []).map((block) => JSON.stringify(block)).sort();
      expect(work(held?.explain())).toEqual(work(standing));
      expect(held?.difference).toMatchObject({ moved: [], days: [], calls: [] });
    }
  });
});

describe("the figures of a way", () => {
  it("are those of its plan", () => {
    forEachCase(({ ways }) => {
      for (const { figures, explain } of ways.map((way) => ({
        figures: way.figures,
        explain: () => way.explain(),
      }))) {
        const { cost, impossible } = explain();
        expect(figures).toMatchObject({
          lateDays: cost.lateDays,
          idleCrewHours: cost.idleCrewHours,
          overtimeCrewHours: cost.overtimeCrewHours,
          moves: cost.moves,
          openNights: cost.openNights,
          cost: cost.total,
          leftOut: impossible.length,
        });
      }
    });
  });

  it("count tasks moved and days changed as the two plans' blocks say", () => {
    forEachCase(({ company, options: { asOf, standing }, ways }) => {
      const open = company.jobs.flatMap((job) =>
        job.tasks.flatMap((task) => (task.status === "done" ? [] : [`${job.id}/${task.id}`])),
      );
      const then = daysOfWork(company, asOf, reference(company, standing));
      for (const way of ways) {
        const now = daysOfWork(company, asOf, way.explain().blocks);
        const moved = open.filter((name) => (then.get(name) ?? []).join() !== (now.get(name) ?? []).join());
        expect(way.difference.moved.map(nameOf)).toEqual(moved);
        expect(way.figures.tasksMoved).toBe(moved.length);
        const daysOf = (work: Map<string, string[]>) => new Set(open.flatMap((name) => work.get(name) ?? []));
        const [one, other] = [daysOf(then), daysOf(now)];
        const changed = new Set(way.difference.days.map(({ date, crew }) => `${date} ${crew}`));
        for (const day of [...one, ...other])
          if (one.has(day) !== other.has(day)) expect(changed).toContain(day);
      }
    });
  });

  it("count late days and promises as the two plans' tasks say", () => {
    let late = 0;
    forEachCase(({ company, options: { standing }, ways }) => {
      for (const way of ways) {
        const plan = way.explain();
        const { promises } = way.difference;
        const after = promises.reduce((sum, { lateAfter }) => sum + (lateAfter ?? 0), 0);
        expect(after).toBe(plan.cost.lateDays);
        expect(way.figures.promisesBroken).toBe(promises.filter(({ kind }) => kind === "broken").length);
        expect(way.figures.promisesSaved).toBe(promises.filter(({ kind }) => kind === "saved").length);
        for (const { job: id, promised, lateBefore, lateAfter, kind } of promises) {
          late += 1;
          const job = present(
            company.jobs.find((one) => one.id === id),
            id,
          );
          expect(job.promised).toBe(promised);
          if (kind === "broken") expect([lateBefore ?? 0, lateAfter === 0]).toEqual([0, false]);
          if (kind === "saved") expect([(lateBefore ?? 0) > 0, lateAfter]).toEqual([true, 0]);
          const zone = job.site.timeZone ?? company.company.timeZone;
          // The standing plan knows its own ends; what is published, or has come in since, it does not.
          const open = job.tasks.filter(({ status }) => status !== "done");
          const ends = standing.tasks.filter((one) => one.job === id).map(({ end }) => minute(company, end));
          const isKnown = ends.length === open.length && (company.published ?? []).length === 0;
          const hasWaits = open.some(({ trade, laborHours }) => trade === null || laborHours === 0);
          if (!isKnown || hasWaits || lateAfter === null) continue;
          const end = civilDateAt(Math.max(...ends) - 1, zone);
          expect(lateBefore).toBe(Math.max(0, daysBetween(civilDate(promised), end)));
        }
      }
    });
    expect(late).toBeGreaterThan(CASES / 2);
  });

  it("count a call for each house and each subcontractor whose days are others, and for each delivery needed on another", () => {
    let calls = 0;
    forEachCase(({ company, options: { asOf, standing }, ways }) => {
      const then = daysOfWork(company, asOf, reference(company, standing));
      const daysFor = (work: Map<string, string[]>, jobId: string | null, crew: string | null): string =>
        [
          ...new Set(
            company.jobs
              .filter(({ id }) => jobId === null || id === jobId)
              .flatMap((job) =>
                job.tasks.filter(({ status }) => status !== "done").map(({ id }) => `${job.id}/${id}`),
              )
              .flatMap((name) => work.get(name) ?? [])
              .filter((day) => crew === null || day.slice(11) === crew)
              .map((day) => day.slice(0, 10)),
          ),
        ]
          .sort()
          .join();
      for (const way of ways) {
        const now = daysOfWork(company, asOf, way.explain().blocks);
        const own = way.difference.calls;
        calls += own.length;
        expect(way.figures.calls).toBe(own.length);
        const homes = company.jobs.filter(({ id }) => daysFor(then, id, null) !== daysFor(now, id, null));
        expect(own.flatMap((call) => (call.kind === "homeowner" ? [call.job] : []))).toEqual(
          homes.map(({ id }) => id),
        );
        const subs = company.crews.filter(
          ({ id, kind }) => kind === "sub" && daysFor(then, null, id) !== daysFor(now, null, id),
        );
        expect(own.flatMap((call) => (call.kind === "sub" ? [call.crew] : []))).toEqual(
          subs.map(({ id }) => id),
        );
        for (const call of own) {
          if (call.kind !== "supplier") continue;
          expect(call.old).not.toBe(call.new);
          const delivery = company.jobs
            .find(({ id }) => id === call.job)
            ?.deliveries.find(({ id }) => id === call.delivery);
          expect(delivery?.received).toBe(false);
        }
      }
    });
    expect(calls).toBeGreaterThan(CASES);
  });
});

describe("a wish of any kind in any company", () => {
  it(
    "is kept by a plan that breaks no rule, or refused with a sentence",
    () => {
      let kept = 0;
      let refused = 0;
      forEachCase(({ company, options, choice }) => {
        const { standing, asOf } = options;
        const entries = standing.tasks.filter(({ crew }) => crew !== null);
        const entry = entries[choice.pick % Math.max(1, entries.length)];
        const crew = present(company.crews[choice.pick % company.crews.length], "a crew").id;
        const other = present(company.crews[(choice.pick + 1) % company.crews.length], "a crew").id;
        const date = present(listDatesAhead(company, asOf, 10)[choice.days - 1], "a date");
        const wishes: Wish[] = [
          ...(entry
            ? [
                { kind: "pin-crew" as const, job: entry.job, task: entry.task, crew },
                { kind: "pin-day" as const, job: entry.job, task: entry.task, date },
              ]
            : []),
          { kind: "swap-crews", crews: [crew, other], date },
          { kind: "keep-crew", crew },
        ];
        for (const wish of wishes) {
          const made = planWish(company, [wish], { ...options, iterations: 6 });
          if (!made.ok) {
            refused += 1;
            expect(made.error.wish).toBe(wish);
            expect(made.error.sentence).toMatch(/^[A-Z"].+\.$/);
            continue;
          }
          kept += 1;
          const { way, without, costs } = made.value;
          const plan = way.explain();
          expect(checkPlan(way.company, plan).map(formatBroken)).toEqual([]);
          expect(costs.cost).toBeCloseTo(way.figures.cost - without.figures.cost, 6);
          expect(costs.tasksMoved).toBe(way.figures.tasksMoved - without.figures.tasksMoved);
          expectKept(company, standing, plan, wish);
        }
      });
      expect(Math.min(kept, refused)).toBeGreaterThan(CASES / 3);
    },
    MOST_SECONDS,
  );
});

function expectKept(company: Company, standing: Plan, plan: Plan, wish: Wish): void {
  if (wish.kind === "pin-crew" || wish.kind === "pin-day") {
    const planned = present(
      plan.tasks.find(({ job, task }) => job === wish.job && task === wish.task),
      "the wished task",
    );
    if (wish.kind === "pin-crew") expect(planned.crew).toBe(wish.crew);
    else expect(planned.start.slice(0, 10)).toBe(wish.date);
    return;
  }
  const zone = company.company.timeZone;
  const worksOn = (entries: Plan, crew: string, date: string): string[] =>
    entries.blocks
      .filter((block) => block.kind === "work" && block.crew === crew)
      .filter((block) => civilDateAt(minute(company, block.start), zone) === date)
      .map(nameOf);
  if (wish.kind === "swap-crews") {
    const open = new Set(plan.tasks.map(nameOf));
    for (const [from, to] of [wish.crews, wish.crews.toReversed()] as [string, string][])
      for (const name of worksOn(standing, from, wish.date).filter((one) => open.has(one)))
        expect([name, plan.tasks.find((one) => nameOf(one) === name)?.crew]).toEqual([name, to]);
    return;
  }
  const own = plan.blocks.filter(({ kind, crew }) => kind === "work" && crew === wish.crew);
  const stayed = new Set(standing.tasks.filter(({ crew }) => crew === wish.crew).map(nameOf));
  const first = own.toSorted((a, b) => minute(company, a.start) - minute(company, b.start))[0];
  const begins = new Map<string, Minute>();
  for (const block of own) {
    const start = minute(company, block.start);
    begins.set(nameOf(block), Math.min(start, begins.get(nameOf(block)) ?? start));
  }
  const here = [...begins].filter(([name]) => stayed.has(name) && name.startsWith(`${first?.job ?? ""}/`));
  const last = Math.max(...here.map(([, start]) => start));
  for (const block of own)
    if (block.job !== first?.job) expect(minute(company, block.start)).toBeGreaterThanOrEqual(last);
}
