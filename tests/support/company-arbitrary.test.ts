/** The random companies are valid, and varied enough that every part of a company file shows up. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { formatFault, parseCompany } from "../../src/domain/company-file.js";
import type { Company } from "../../src/domain/company-schema.js";
import { parseInstant } from "../../src/domain/time.js";
import { anyCompany, anyCompanyFile } from "./company-arbitrary.js";
import { propertySeed } from "./property-seed.js";

describe("random companies", () => {
  it("have no fault", () => {
    fc.assert(
      fc.property(anyCompanyFile(), ({ input }) => {
        const result = parseCompany(input);
        expect(result.ok ? [] : result.error.map(formatFault)).toEqual([]);
      }),
      { seed: propertySeed(20_270_316), numRuns: 500 },
    );
  });

  it("have done all that work done or under way follows, lag included, and received what it needs", () => {
    fc.assert(
      fc.property(anyCompany(), ({ company, asOf }) => {
        for (const job of company.jobs) {
          for (const task of job.tasks.filter(({ status }) => status !== "to-do")) {
            const start = parseInstant(task.startedAt ?? "", "UTC");
            expect(start).toBeLessThan(asOf);
            for (const { task: id, lagHours } of task.after) {
              const before = job.tasks.find((other) => other.id === id);
              expect(before?.status).toBe("done");
              const end = parseInstant(before?.finishedAt ?? "", "UTC") ?? Infinity;
              expect(end + lagHours * 60).toBeLessThanOrEqual(start ?? 0);
            }
            const due = job.deliveries.filter(({ id }) => task.needs.includes(id));
            expect(due.every(({ received }) => received)).toBe(true);
          }
        }
      }),
      { seed: propertySeed(2), numRuns: 300 },
    );
  });

  it("have at most one task under way for each crew, and that crew can do it", () => {
    fc.assert(
      fc.property(anyCompany(), ({ company }) => {
        const underWay = company.jobs.flatMap(({ tasks }) =>
          tasks.filter(({ status, trade }) => status === "under-way" && trade !== null),
        );
        expect(new Set(underWay.map(({ doneBy }) => doneBy)).size).toBe(underWay.length);
        for (const task of underWay) {
          const crew = company.crews.find(({ id }) => id === task.doneBy);
          expect(Object.keys(crew?.trades ?? {})).toContain(task.trade);
          expect(crew?.size).toBeGreaterThanOrEqual(task.minCrew);
        }
      }),
      { seed: propertySeed(3), numRuns: 300 },
    );
  });

  it("show every part of a company file in 500 of them", () => {
    const companies = fc
      .sample(anyCompany(), { seed: propertySeed(4), numRuns: 500 })
      .map(({ company }) => company);
    const tasksOf = (company: Company) => company.jobs.flatMap(({ tasks }) => tasks);
    const share = (holds: (company: Company) => boolean) => companies.filter(holds).length / companies.length;
    const shares = {
      yard: share(({ crews }) => crews.some(({ startsAt }) => startsAt === "yard")),
      off: share(({ crews }) => crews.some(({ off }) => off.length > 0)),
      extra: share(({ crews }) => crews.some(({ extra }) => extra.length > 0)),
      stretch: share(({ crews }) => crews.some(({ stretch }) => stretch.length > 0)),
      wait: share((company) => tasksOf(company).some(({ trade }) => trade === null)),
      chain: share((company) => tasksOf(company).some(({ opens }) => opens)),
      openNights: share(
        (company) => company.policy.openNights > 0 && tasksOf(company).some(({ opens }) => opens),
      ),
      lag: share((company) =>
        tasksOf(company).some(({ after }) => after.some(({ lagHours }) => lagHours > 0)),
      ),
      lift: share((company) => tasksOf(company).some(({ equipment }) => "lift" in equipment)),
      lateDelivery: share(({ jobs }) =>
        jobs.some(({ deliveries, tasks }) =>
          deliveries.some(({ id, received }) => !received && tasks.some(({ needs }) => needs.includes(id))),
        ),
      ),
      named: share((company) => tasksOf(company).some(({ crew }) => crew !== null)),
      underWay: share((company) => tasksOf(company).some(({ status }) => status === "under-way")),
      done: share((company) => tasksOf(company).some(({ status }) => status === "done")),
      hold: share(({ holds }) => holds.length > 0),
      published: share(({ published }) => (published ?? []).length > 0),
      border: share(({ jobs }) => jobs.some(({ site }) => site.timeZone !== undefined)),
      south: share(({ jobs }) => jobs.some(({ site }) => site.lat < 0)),
      farNorth: share(({ jobs }) => jobs.some(({ site }) => site.lat > 60)),
    };
    expect(Object.entries(shares).filter(([, part]) => part < 0.05)).toEqual([]);
  });
});
