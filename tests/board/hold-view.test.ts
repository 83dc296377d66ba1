/** Holds as people read them. */
import { describe, expect, it } from "vitest";
import { holdTimes, listHoldViews } from "../../src/board/hold-view.js";
import { civilDate, minuteAt } from "../../src/domain/time.js";
import { decemberCompany } from "./december-fixture.js";

const now = minuteAt(civilDate("2026-12-08"), "17:00", "America/New_York");

describe("a hold", () => {
  it("is told with its work, its houses and where it comes from; one that is over comes last", () => {
    expect(listHoldViews(decemberCompany(), now)).toEqual([
      {
        id: "wet",
        when: "Wednesday 9 December, all day",
        trades: "outdoor work",
        jobs: "every house",
        why: "rain all day",
        source: "entered by hand",
        isPast: false,
      },
      {
        id: "gusts",
        when: "Tue 8 Dec, 1:00 pm to 4:00 pm",
        trades: "Stone",
        jobs: "27 Wharf Road",
        why: "gusts to 38 mph",
        source: "entered by hand",
        isPast: true,
      },
    ]);
  });

  it.each([
    ["2026-12-09T00:00", "2026-12-11T00:00", "Wed 9 Dec to Thu 10 Dec, all day"],
    ["2026-12-09T22:00", "2026-12-10T06:00", "Wed 9 Dec, 10:00 pm to Thu 10 Dec, 6:00 am"],
    ["2026-12-09T06:00", "2026-12-10T00:00", "Wed 9 Dec, 6:00 am to Thu 10 Dec, 12:00 am"],
  ])("from %s to %s is told as %s", (from, to, told) => {
    const company = decemberCompany({ holds: [{ id: "h", from, to, trades: "all", jobs: "all" }] });
    expect(company.holds.map((hold) => holdTimes(company, hold, "en"))).toEqual([told]);
  });
});
