/** Random changes to a company: each kind, on things that are there and on some that are not, with good and bad values. */
import * as fc from "fast-check";
import type { Company } from "../../../src/domain/company-schema.js";
import { addDays, civilDateAt, type Minute } from "../../../src/domain/time.js";
import type { CompanyChange } from "../../../src/services/changes/company-change.js";

const NOWHERE = "nowhere-1";

/** Something good, and now and then something bad. */
function mostly<T>(good: fc.Arbitrary<T>, bad: fc.Arbitrary<T>): fc.Arbitrary<T> {
  return fc.oneof({ weight: 9, arbitrary: good }, { weight: 1, arbitrary: bad });
}

/** A change that somebody might send, of the company as it stands at that minute. */
export function anyChange(company: Company, now: Minute): fc.Arbitrary<CompanyChange> {
  const oneOf = (ids: readonly string[]) =>
    ids.length === 0 ? fc.constant(NOWHERE) : mostly(fc.constantFrom(...ids), fc.constant(NOWHERE));
  const job = oneOf(company.jobs.map(({ id }) => id));
  const crew = oneOf(company.crews.map(({ id }) => id));
  const today = civilDateAt(now, company.company.timeZone);
  const date = mostly(
    fc.integer({ min: -20, max: 60 }).map((days) => String(addDays(today, days))),
    fc.constantFrom("", "soon", "2026-02-30", "2099-12-31", "1999-01-01"),
  );
  const time = fc
    .tuple(
      date,
      mostly(fc.constantFrom("", "T00:00", "T07:30", "T12:00-05:00"), fc.constantFrom("T24:00", "T25:00")),
    )
    .map(([day, clock]) => day + clock);
  const words = mostly(
    fc.constantFrom("", "rain", "wedding of Noor's sister"),
    fc.constantFrom("x".repeat(2001), "bell \u0007"),
  );
  const hold = fc.record({
    from: time,
    to: time,
    trades: fc.oneof(fc.constantFrom("outdoor" as const, "all" as const), fc.constant([NOWHERE])),
    jobs: fc.oneof(
      fc.constant("all" as const),
      job.map((id) => [id]),
    ),
    why: words,
  });
  const dayOff = fc.oneof(
    fc.record({ from: date, to: date, why: words }),
    fc.constantFrom(...company.crews.flatMap(({ off }) => off), { from: "", to: "", why: "" }),
  );
  // A sheet that is held can be released, and one that is released can be kept.
  const sheets = (company.published ?? []).map((block) => ({
    kind: block.released ? ("sheet-kept" as const) : ("sheet-released" as const),
    crew: block.crew,
    date: block.start.slice(0, 10),
  }));
  const anySheet = fc.record({
    kind: fc.constantFrom("sheet-released" as const, "sheet-kept" as const),
    crew,
    date,
  });
  const sheet = sheets.length === 0 ? anySheet : mostly(fc.constantFrom(...sheets), anySheet);
  const hours = mostly(fc.constantFrom(0.5, 4, 6), fc.constantFrom(-1, 0, 5_001, NaN, Infinity));
  const holdId = oneOf(company.holds.map(({ id }) => id));
  const why = words;
  const inJob = (list: "tasks" | "deliveries") =>
    fc.constantFrom(
      ...company.jobs.flatMap((house) => house[list].map(({ id }) => ({ job: house.id, id }))),
      { job: company.jobs[0]?.id ?? NOWHERE, id: NOWHERE },
    );
  return fc.oneof(
    fc.record({ kind: fc.constant("hold-added" as const), input: hold, why }),
    fc.record({ kind: fc.constant("hold-changed" as const), id: holdId, input: hold, why }),
    fc.record({ kind: fc.constant("hold-lifted" as const), id: holdId, why }),
    fc.record({ kind: fc.constant("day-off-added" as const), crew, input: dayOff, why }),
    fc.record({ kind: fc.constant("day-off-removed" as const), crew, input: dayOff, why }),
    fc.record({
      kind: fc.constant("crew-language" as const),
      crew,
      language: fc.constantFrom("en" as const, "es" as const),
      why,
    }),
    fc.record({ kind: fc.constant("promise-moved" as const), job, promised: fc.option(date), why }),
    fc.record({ sheet, why }).map(({ sheet: of, ...rest }) => ({ ...of, ...rest })),
    fc.record({ kind: fc.constant("job-paused" as const), job, until: date, why }),
    fc
      .record({
        at: inJob("tasks"),
        how: fc.oneof(
          hours.map((more) => ({ kind: "more" as const, hours: more })),
          fc.constant({ kind: "half-left" as const }),
        ),
        begun: fc.option(
          fc.record({
            crew,
            startedAt: fc.integer({ min: now - 600, max: now + 60 }),
            leftHours: fc.constantFrom(0, 3.5, 12),
          }),
        ),
        why,
      })
      .map(({ at, ...rest }) => ({ kind: "hours-added" as const, job: at.job, task: at.id, ...rest })),
    fc
      .record({
        at: inJob("tasks"),
        place: fc.constantFrom("before" as const, "after" as const),
        trade: oneOf(company.trades.map(({ id }) => id)),
        laborHours: hours,
        why,
      })
      .map(({ at, ...rest }) => ({ kind: "task-added" as const, job: at.job, beside: at.id, ...rest })),
    fc
      .record({ at: inJob("deliveries"), expected: date, received: fc.boolean(), why })
      .map(({ at, ...rest }) => ({
        kind: "delivery-changed" as const,
        job: at.job,
        delivery: at.id,
        ...rest,
      })),
    fc
      .record({
        at: inJob("tasks"),
        input: fc.record({
          status: fc.constantFrom("to-do" as const, "under-way" as const, "done" as const),
          leftHours: mostly(
            fc.constantFrom(null, null, 0, 0.5, 6),
            fc.constantFrom(-1, 5_001, NaN, Infinity),
          ),
          doneBy: fc.option(crew, { freq: 1 }),
          startedAt: fc.option(time, { freq: 1 }),
          finishedAt: fc.option(time, { freq: 1 }),
        }),
        why,
      })
      .map(({ at, ...rest }) => ({ kind: "task-progress" as const, job: at.job, task: at.id, ...rest })),
    fc
      .record({
        at: inJob("tasks"),
        crew,
        date,
        from: fc.option(fc.record({ crew, date: fc.constant(today) })),
        why,
      })
      .map(({ at, ...rest }) => ({ kind: "task-moved" as const, job: at.job, task: at.id, ...rest })),
  );
}
