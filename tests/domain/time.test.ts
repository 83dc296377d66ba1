/**
 * Time on the days on which clocks change. United States: clocks go forward at 02:00 on the second Sunday of March and
 * back at 02:00 on the first Sunday of November (15 U.S.C. 260a, as amended from 2007).
 */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  addDays,
  civilDate,
  civilDateAt,
  clockAt,
  dateOfDayNumber,
  dayNumber,
  daysBetween,
  dayStart,
  isZone,
  localNoon,
  minuteAt,
  mondayOf,
  parseCivilDate,
  parseClockTime,
  parseInstant,
  toIso,
  weekdayOf,
  type CivilDate,
} from "../../src/domain/time.js";
import { propertySeed } from "../support/property-seed.js";

const NEW_YORK = "America/New_York";
const ZONES = [
  NEW_YORK,
  "America/St_Johns",
  "America/Anchorage",
  "America/Phoenix",
  "America/Santiago",
  "Europe/Berlin",
  "Africa/Cairo",
  "Asia/Kolkata",
  "Asia/Kathmandu",
  "Australia/Adelaide",
  "Australia/Lord_Howe",
  "Pacific/Auckland",
  "Pacific/Chatham",
  "Pacific/Kiritimati",
  "Pacific/Pago_Pago",
  "UTC",
];
const anyZone = fc.constantFrom(...ZONES);
const anyDate = fc
  .integer({ min: dayNumber(civilDate("2000-01-01")), max: dayNumber(civilDate("2099-12-31")) })
  .map(dateOfDayNumber);
const anyMinute = fc.integer({ min: 15_778_080, max: 68_374_079 }); // 2000 to 2099

/** The nth Sunday of a month, counted by hand. */
function nthSunday(year: number, month: number, nth: number): CivilDate {
  let date = civilDate(`${year}-${String(month).padStart(2, "0")}-01`);
  while (weekdayOf(date) !== "sun") date = addDays(date, 1);
  return addDays(date, 7 * (nth - 1));
}

function minutesIn(date: CivilDate, zone: string): number {
  return dayStart(addDays(date, 1), zone) - dayStart(date, zone);
}

describe("the days on which United States clocks change", () => {
  it.each([
    [2026, "2026-03-08", "2026-11-01"],
    [2027, "2027-03-14", "2027-11-07"],
    [2028, "2028-03-12", "2028-11-05"],
    [2029, "2029-03-11", "2029-11-04"],
    [2030, "2030-03-10", "2030-11-03"],
  ])("in %i are the second Sunday of March (%s) and the first of November (%s)", (year, spring, autumn) => {
    expect([nthSunday(year, 3, 2), nthSunday(year, 11, 1)]).toEqual([spring, autumn]);
    const changes = Array.from({ length: 365 }, (_, day) => addDays(civilDate(`${year}-01-01`), day))
      .filter((date) => minutesIn(date, NEW_YORK) !== 1440)
      .map((date) => [date, minutesIn(date, NEW_YORK) / 60]);
    expect(changes).toEqual([
      [spring, 23],
      [autumn, 25],
    ]);
  });

  it("have no 02:30 in spring: it is read as 03:30, an hour after 01:30", () => {
    const date = civilDate("2026-03-08");
    expect(toIso(minuteAt(date, "02:30", NEW_YORK), NEW_YORK)).toBe("2026-03-08T03:30:00-04:00");
    expect(minuteAt(date, "03:00", NEW_YORK) - minuteAt(date, "01:59", NEW_YORK)).toBe(1);
  });

  it("have 01:30 twice in autumn: the first of the two is meant, and an offset tells them apart", () => {
    const first = minuteAt(civilDate("2026-11-01"), "01:30", NEW_YORK);
    expect(toIso(first, NEW_YORK)).toBe("2026-11-01T01:30:00-04:00");
    expect(parseInstant("2026-11-01T01:30-05:00", NEW_YORK)).toBe(first + 60);
    expect(clockAt(first + 60, NEW_YORK)).toBe("01:30");
  });

  it("keep a shift from seven to half past three at its wall-clock length", () => {
    for (const date of [civilDate("2026-03-08"), civilDate("2026-11-01")]) {
      expect(minuteAt(date, "15:30", NEW_YORK) - minuteAt(date, "07:00", NEW_YORK)).toBe(510);
    }
  });

  it("do not exist in Phoenix, which is seven hours behind UTC all year", () => {
    expect(toIso(minuteAt(civilDate("2026-07-01"), "12:00", "America/Phoenix"), "America/Phoenix")).toBe(
      "2026-07-01T12:00:00-07:00",
    );
    expect(minutesIn(civilDate("2026-03-08"), "America/Phoenix")).toBe(1440);
  });
});

describe("clock changes elsewhere", () => {
  it("a change by half an hour makes days of 23½ and 24½ hours (Lord Howe Island)", () => {
    const lengths = Array.from({ length: 365 }, (_, day) =>
      minutesIn(addDays(civilDate("2027-01-01"), day), "Australia/Lord_Howe"),
    );
    expect(lengths.filter((length) => length !== 1440)).toEqual([1470, 1410]);
  });

  it("where clocks change at midnight, a date starts with its first minute that exists (Santiago)", () => {
    const date = civilDate("2026-09-06");
    expect(toIso(dayStart(date, "America/Santiago"), "America/Santiago")).toBe("2026-09-06T01:00:00-03:00");
    expect(civilDateAt(dayStart(date, "America/Santiago") - 1, "America/Santiago")).toBe("2026-09-05");
  });

  it("where the clocks go back over midnight, a date starts with the first of its two midnights (Havana)", () => {
    const date = civilDate("2026-11-01");
    expect(toIso(dayStart(date, "America/Havana"), "America/Havana")).toBe("2026-11-01T00:00:00-04:00");
    expect(minutesIn(date, "America/Havana")).toBe(1500);
  });
});

describe("civil dates", () => {
  it("29 February is a date in leap years only", () => {
    expect(parseCivilDate("2028-02-29")).toBe("2028-02-29");
    expect(parseCivilDate("2027-02-29")).toBeUndefined();
    expect(parseCivilDate("2100-02-29")).toBeUndefined();
    expect(addDays(civilDate("2028-02-28"), 1)).toBe("2028-02-29");
    expect(addDays(civilDate("2028-02-29"), 366)).toBe("2029-03-01");
    expect(minutesIn(civilDate("2028-02-29"), NEW_YORK)).toBe(1440);
  });

  it.each(["2027-13-01", "2027-00-10", "2027-04-31", "27-04-01", "2027-4-1", "2027-04-01T00:00", ""])(
    "%j is no date",
    (text) => {
      expect(parseCivilDate(text)).toBeUndefined();
    },
  );

  it("a date and its day number are the same thing, one day apart from the next", () => {
    fc.assert(
      fc.property(anyDate, fc.integer({ min: -4000, max: 4000 }), (date, days) => {
        expect(dateOfDayNumber(dayNumber(date))).toBe(date);
        expect(daysBetween(date, addDays(date, days))).toBe(days);
      }),
      { seed: propertySeed(1) },
    );
  });

  it("a week starts on Monday", () => {
    expect(weekdayOf(civilDate("1970-01-01"))).toBe("thu");
    expect(mondayOf(civilDate("2027-03-14"))).toBe("2027-03-08");
    expect(mondayOf(civilDate("2027-03-15"))).toBe("2027-03-15");
    expect(weekdayOf(civilDate("1969-12-31"))).toBe("wed");
  });
});

describe("instants", () => {
  it("survive the way to ISO 8601 and back, in every zone and over every clock change", () => {
    fc.assert(
      fc.property(anyMinute, anyZone, anyZone, (minute, zone, otherZone) => {
        expect(parseInstant(toIso(minute, zone), otherZone)).toBe(minute);
      }),
      { seed: propertySeed(2), numRuns: 500 },
    );
  });

  it("lie between the start of their date and the start of the next", () => {
    fc.assert(
      fc.property(anyMinute, anyZone, (minute, zone) => {
        const date = civilDateAt(minute, zone);
        expect(dayStart(date, zone)).toBeLessThanOrEqual(minute);
        expect(minute).toBeLessThan(dayStart(addDays(date, 1), zone));
      }),
      { seed: propertySeed(3), numRuns: 500 },
    );
  });

  it("at local noon show noon on that date, in every zone on every date", () => {
    fc.assert(
      fc.property(anyDate, anyZone, (date, zone) => {
        expect([civilDateAt(localNoon(date, zone), zone), clockAt(localNoon(date, zone), zone)]).toEqual([
          date,
          "12:00",
        ]);
      }),
      { seed: propertySeed(4), numRuns: 500 },
    );
  });

  it("without an offset are wall time in the zone; a bare date is its start; seconds are cut off", () => {
    expect(parseInstant("2027-03-17T13:00", NEW_YORK)).toBe(
      minuteAt(civilDate("2027-03-17"), "13:00", NEW_YORK),
    );
    expect(parseInstant("2027-03-17", NEW_YORK)).toBe(dayStart(civilDate("2027-03-17"), NEW_YORK));
    expect(parseInstant("2027-03-17T13:00:59Z", NEW_YORK)).toBe(
      parseInstant("2027-03-17T09:00-04:00", "UTC"),
    );
  });

  it.each([
    "tomorrow",
    "2027-02-29T10:00",
    "2027-03-17T25:00",
    "2027-03-17 13:00",
    "2027-W11-3",
    "13:00",
    "",
  ])("%j is none", (text) => {
    expect(parseInstant(text, NEW_YORK)).toBeUndefined();
  });
});

describe("clock times and zones", () => {
  it("24:00 is the end of the day, 23 or 25 hours after its start where clocks change", () => {
    expect(parseClockTime("24:00")).toBe(1440);
    const autumn = civilDate("2026-11-01");
    expect(minuteAt(autumn, "24:00", NEW_YORK) - minuteAt(autumn, "00:00", NEW_YORK)).toBe(1500);
  });

  it.each(["24:01", "7:00", "07:60", "0700", "07:00:00", ""])("%j is no time of day", (text) => {
    expect(parseClockTime(text)).toBeUndefined();
  });

  it("a zone exists or it does not", () => {
    expect(ZONES.filter((zone) => !isZone(zone))).toEqual([]);
    expect(["America/Portland", "Mars/Olympus", ""].filter(isZone)).toEqual([]);
  });
});
