/** Holds as people read them. */
import { describe, expect, it } from "vitest";
import { holdTimes, listHoldViews } from "../../src/board/hold-view.js";
import { present } from "../../src/domain/result.js";
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
    [
      "2026-12-09T00:00",
      "2026-12-11T00:00",
      "Wed 9 Dec to Thu 10 Dec, all day",
      "del mié 9 dic al jue 10 dic, todo el día",
    ],
    ["2026-12-09", "2026-12-10", "Wednesday 9 December, all day", "miércoles 9 de diciembre, todo el día"],
    [
      "2026-12-09T22:00",
      "2026-12-10T06:00",
      "Wed 9 Dec, 10:00 pm to Thu 10 Dec, 6:00 am",
      "del mié 9 dic, 10:00 p.m. al jue 10 dic, 6:00 a.m.",
    ],
    ["2026-12-09T06:00", "2026-12-10T00:00", "Wed 9 Dec, from 6:00 am on", "mié 9 dic, desde las 6:00 a.m."],
    ["2026-12-09T00:00", "2026-12-09T10:30", "Wed 9 Dec, until 10:30 am", "mié 9 dic, hasta las 10:30 a.m."],
    [
      "2026-12-09T13:00",
      "2026-12-09T16:00",
      "Wed 9 Dec, 1:00 pm to 4:00 pm",
      "mié 9 dic, de la 1:00 p.m. a las 4:00 p.m.",
    ],
  ])("from %s to %s is told as %s, %s", (from, to, english, spanish) => {
    const company = decemberCompany({ holds: [{ id: "h", from, to, trades: "all", jobs: "all" }] });
    const [hold] = company.holds;
    const told = (["en", "es"] as const).map((language) =>
      holdTimes(company, present(hold, "the hold"), language),
    );
    expect(told).toEqual([english, spanish]);
  });
});
