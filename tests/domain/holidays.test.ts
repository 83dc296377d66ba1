/** Business days and waits. Dates of United States holidays: 5 U.S.C. 6103 and Executive Order 11582. */
import { describe, expect, it } from "vitest";
import { endOfBusinessWait, isBusinessDay } from "../../src/domain/holidays.js";
import { addDays, civilDate, minuteAt, toIso } from "../../src/domain/time.js";

const NEW_YORK = "America/New_York";

/** Every weekday of a year that is no business day. */
function listWeekdaysOff(year: number, zone: string): string[] {
  const off: string[] = [];
  for (let date = civilDate(`${year}-01-01`); date < `${year + 1}`; date = addDays(date, 1)) {
    const weekday = new Date(`${date}T00:00:00Z`).getUTCDay();
    if (weekday >= 1 && weekday <= 5 && !isBusinessDay(date, zone)) off.push(date);
  }
  return off;
}

describe("business days", () => {
  it.each([
    ["2026-07-03", "Independence Day 2026, a Saturday, is kept on the Friday before"],
    ["2026-11-26", "Thanksgiving 2026 is the fourth Thursday of November"],
    ["2027-05-31", "Memorial Day 2027 is the last Monday of May"],
    ["2027-06-18", "Juneteenth 2027, a Saturday, is kept on the Friday before"],
    ["2027-07-05", "Independence Day 2027, a Sunday, is kept on the Monday after"],
    ["2027-12-24", "Christmas 2027, a Saturday, is kept on the Friday before"],
    ["2027-12-31", "New Year's Day 2028, a Saturday, is kept on the last Friday of 2027"],
    ["2028-11-10", "Veterans Day 2028, a Saturday, is kept on the Friday before"],
  ])("%s is no business day: %s", (date) => {
    expect(isBusinessDay(civilDate(date), NEW_YORK)).toBe(false);
  });

  it("a United States year has its eleven holidays off and no other weekday", () => {
    expect(listWeekdaysOff(2026, NEW_YORK)).toEqual([
      "2026-01-01",
      "2026-01-19",
      "2026-02-16",
      "2026-05-25",
      "2026-06-19",
      "2026-07-03",
      "2026-09-07",
      "2026-10-12",
      "2026-11-11",
      "2026-11-26",
      "2026-12-25",
    ]);
  });

  it("a Saturday and a Sunday are no business days", () => {
    expect(isBusinessDay(civilDate("2027-03-20"), NEW_YORK)).toBe(false);
    expect(isBusinessDay(civilDate("2027-03-21"), NEW_YORK)).toBe(false);
    expect(isBusinessDay(civilDate("2027-03-22"), NEW_YORK)).toBe(true);
  });

  it("holidays are those of the zone's country: 4 July is a working day in Canada, 1 July is not", () => {
    expect(isBusinessDay(civilDate("2028-07-04"), "America/Toronto")).toBe(true);
    expect(isBusinessDay(civilDate("2027-07-01"), "America/Toronto")).toBe(false);
    expect(isBusinessDay(civilDate("2027-07-01"), NEW_YORK)).toBe(true);
  });

  it("an old name of a zone, or one in lower case, has the same holidays", () => {
    expect(listWeekdaysOff(2027, "US/Eastern")).toEqual(listWeekdaysOff(2027, NEW_YORK));
    expect(listWeekdaysOff(2027, "america/new_york")).toEqual(listWeekdaysOff(2027, NEW_YORK));
  });

  it("in a zone without a country every Monday to Friday is a business day", () => {
    expect(listWeekdaysOff(2027, "Etc/UTC")).toEqual([]);
    expect(listWeekdaysOff(2027, "Antarctica/Troll")).toEqual([]);
  });
});

describe("a wait of business days", () => {
  it("of no days ends at once", () => {
    expect(ends("2027-03-16", "14:10", 0)).toBe("2027-03-16T14:10:00-04:00");
  });

  it("begun in the middle of a day ends at the midnight after the next business day", () => {
    expect(ends("2027-03-16", "14:10", 1)).toBe("2027-03-18T00:00:00-04:00");
  });

  it("begun at midnight counts the day that starts there", () => {
    expect(ends("2027-03-16", "00:00", 1)).toBe("2027-03-17T00:00:00-04:00");
    expect(ends("2027-03-16", "00:01", 1)).toBe("2027-03-18T00:00:00-04:00");
  });

  it("begun on a Friday does not count the weekend", () => {
    expect(ends("2027-03-19", "10:00", 1)).toBe("2027-03-23T00:00:00-04:00");
    expect(ends("2027-03-19", "10:00", 3)).toBe("2027-03-25T00:00:00-04:00");
  });

  it("does not count a holiday", () => {
    expect(ends("2026-11-25", "10:00", 1)).toBe("2026-11-28T00:00:00-05:00");
    expect(ends("2027-12-23", "10:00", 5)).toBe("2028-01-04T00:00:00-05:00");
  });

  it("over a clock change ends at the site's midnight", () => {
    expect(ends("2027-03-12", "10:00", 1)).toBe("2027-03-16T00:00:00-04:00");
  });

  it("reads days at the site and holidays in the company's country", () => {
    // 5 July 2027 is a holiday in the United States, not in Canada.
    expect(ends("2027-07-02", "10:00", 1, "America/Halifax", NEW_YORK)).toBe("2027-07-07T00:00:00-03:00");
    expect(ends("2027-07-02", "10:00", 1, "America/Halifax", "America/Halifax")).toBe(
      "2027-07-06T00:00:00-03:00",
    );
  });
});

function ends(from: string, clock: string, days: number, site = NEW_YORK, company = NEW_YORK): string {
  return toIso(endOfBusinessWait(minuteAt(civilDate(from), clock, site), days, site, company), site);
}
