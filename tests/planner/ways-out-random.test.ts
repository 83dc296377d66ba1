/** What holds for every way out of every slip of every company. */
import { describe, expect, it } from "vitest";
import type { Plan } from "../../src/domain/plan-format.js";
import { present } from "../../src/domain/result.js";
import { civilDate, civilDateAt, daysBetween, type Minute } from "../../src/domain/time.js";
import { formatBroken } from "../../src/planner/check/broken-rule.js";
import { checkPlan } from "../../src/planner/check/check-plan.js";
import { planCompany } from "../../src/planner/plan.js";
import { listWaysOut } from "../../src/planner/ways-out.js";
import { applyEdits } from "../../src/planner/ways-out/company-edits.js";
import { isNoBetter } from "../../src/planner/ways-out/way-out.js";
import { parsed } from "../support/company-builder.js";
import { slipKinds } from "./ways-out-slips.js";
import {
  CASES,
  daysOfWork,
  firstStarts,
  forEachCase,
  listCases,
  minute,
  MOST_SECONDS,
  nameOf,
  reference,
  sample,
} from "./ways-out-cases.js";

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
        const lends = permissionsUsed.some(({ kind }) => kind === "lend");
        if (!kinds.includes("hold")) expect(kinds.includes("lend")).toBe(permissions.lend && lends);
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
    forEachCase(({ company, options: { asOf, standing }, ways }) => {
      const [held] = ways;
      if (!held) return;
      const before = firstStarts(company, standing);
      const after = firstStarts(company, held.explain());
      const lines = new Map<string, { name: string; before: Minute; after: Minute }[]>();
      for (const [name, { crew, start }] of before) {
        const now = after.get(name);
        const [job = "", task = ""] = name.split("/");
        if (!now) continue;
        if (now.crew !== crew) {
          // A crew is left only where it can never work the task.
          const named = applyEdits(company, [{ kind: "name-crew", job, task, crew }]);
          const { impossible } = planCompany(named, { asOf, seed: 1, iterations: 1 });
          expect(impossible.map(nameOf)).toContain(name);
          continue;
        }
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
