/** A reason says times as the page around it does. */
import { expect, it } from "vitest";
import { dayAndClock, endDayAndClock, shortDate, type Language } from "../../src/board/spoken-time.js";
import { civilDate, parseInstant } from "../../src/domain/time.js";
import { planCompany } from "../../src/planner/plan.js";
import { present } from "../../src/domain/result.js";
import { aCompany, aCrew, aJob, aTask, parsed } from "../support/company-builder.js";

const ZONE = "America/New_York";

/** What holds back a task that may not begin before a time, or is on hold until then. */
function reasonOf(
  change: { readonly notBefore: string } | { readonly heldUntil: string },
  language: Language,
) {
  const notBefore = "notBefore" in change ? change.notBefore : null;
  const company = parsed(
    aCompany({
      crews: [aCrew({ trades: { shop: 1 } })],
      jobs: [aJob({ tasks: [aTask({ id: "t1", trade: "shop", laborHours: 2, notBefore })] })],
      holds:
        "heldUntil" in change
          ? [{ id: "h", from: "2027-09-06T00:00", to: change.heldUntil, trades: "all", jobs: "all" }]
          : [],
    }),
  );
  const asOf = present(parseInstant("2027-09-06T06:00", ZONE), "a time");
  return present(planCompany(company, { asOf, seed: 1, iterations: 0 }).tasks[0], "the task").because.text[
    language
  ];
}

const at = (wall: string): number => present(parseInstant(wall, ZONE), wall);

it.each(["en", "es"] as const)("in %s, with the date, the clock and the half of the day", (language) => {
  for (const wall of ["2027-09-07T09:05", "2027-09-08T12:40", "2027-09-08T14:10"]) {
    const reason = reasonOf({ notBefore: wall }, language);
    expect(reason).toContain(dayAndClock(at(wall), ZONE, language));
    expect(reason).toMatch(/[^.]\.$/);
  }
  expect(reasonOf({ notBefore: "2027-09-08" }, language)).not.toMatch(/\d:\d/);
});

it.each(["en", "es"] as const)("in %s, a midnight is the end of the day before", (language) => {
  const reason = reasonOf({ heldUntil: "2027-09-08T00:00" }, language);
  expect(reason).toContain(endDayAndClock(at("2027-09-08T00:00"), ZONE, language));
  expect(reason).toContain(shortDate(civilDate("2027-09-07"), language));
});
