/** What usable light means: rounding, margins, clock changes, zones far from their meridian, polar days and nights. */
import { expect, test } from "vitest";
import {
  lightAtNoon,
  lightInHandMinutes,
  lightOn,
  toolsDown,
  workingLight,
  type DayLight,
} from "../../src/daylight/light.js";
import { sunTimes } from "../../src/daylight/sun.js";
import {
  addDays,
  civilDate,
  civilDateAt,
  clockAt,
  dayStart,
  localNoon,
  minuteAt,
  toIso,
} from "../../src/domain/time.js";

const sunOnly = { firstLight: "sunrise", lastLight: "sunset" } as const;
const civil = { firstLight: "civil-dawn", lastLight: "civil-dusk" } as const;
const portland = { lat: 43.66, lon: -70.26 };
const newYork = "America/New_York";
const utqiagvik = { lat: 71.2906, lon: -156.7886 };
const alaska = "America/Anchorage";
const fairbanks = { lat: 64.84, lon: -147.72 };

function clocks(light: DayLight, zone: string): readonly (string | null)[] {
  return [light.first, light.last].map((minute) => (minute === null ? null : clockAt(minute, zone)));
}

test("first light is rounded up and last light down to a whole minute", () => {
  const date = civilDate("2026-12-08");
  const times = sunTimes(portland, date, newYork);
  const light = lightOn(portland, date, newYork, sunOnly);
  expect(light.kind).toBe("sun");
  expect(light.first).toBe(Math.ceil((times.sunrise ?? NaN) / 60_000));
  expect(light.last).toBe(Math.floor((times.sunset ?? NaN) / 60_000));
});

test("the light of a December day on the coast of Maine ends soon after four", () => {
  expect(clocks(lightOn(portland, civilDate("2026-12-08"), newYork, sunOnly), newYork)[1]).toMatch(
    /^16:0\d$/,
  );
});

test("working from civil dawn to civil dusk adds light at both ends", () => {
  const date = civilDate("2026-12-08");
  const short = lightOn(portland, date, newYork, sunOnly);
  const long = lightOn(portland, date, newYork, civil);
  expect(long.first).toBeLessThan(short.first ?? NaN);
  expect(long.last).toBeGreaterThan(short.last ?? NaN);
});

test("a local noon that is known already gives the same light", () => {
  const date = civilDate("2027-03-14");
  const again = lightAtNoon(
    portland,
    localNoon(date, newYork),
    dayStart(date, newYork),
    dayStart(addDays(date, 1), newYork),
    sunOnly,
  );
  expect(again).toEqual(lightOn(portland, date, newYork, sunOnly));
});

test("the margin is taken from last light only", () => {
  const date = civilDate("2026-12-08");
  const light = lightOn(portland, date, newYork, sunOnly);
  expect(workingLight(light, date, newYork, 15)).toEqual({
    start: light.first,
    end: (light.last ?? NaN) - 15,
  });
});

test("a margin that leaves no light leaves no working light", () => {
  const date = civilDate("2026-12-08");
  const light = lightOn(portland, date, newYork, sunOnly);
  const length = (light.last ?? NaN) - (light.first ?? NaN);
  expect(workingLight(light, date, newYork, length)).toBeNull();
  expect(workingLight(light, date, newYork, length - 1)).toEqual({
    start: light.first,
    end: (light.first ?? NaN) + 1,
  });
});

test("the sun jumps an hour on the wall clock when the clocks go forward (second Sunday of March, 15 U.S.C. 260a)", () => {
  const before = lightOn(portland, civilDate("2027-03-13"), newYork, sunOnly);
  const after = lightOn(portland, civilDate("2027-03-14"), newYork, sunOnly);
  expect((after.first ?? NaN) - (before.first ?? NaN)).toBeGreaterThan(1440 - 4);
  expect((after.first ?? NaN) - (before.first ?? NaN)).toBeLessThan(1440);
  expect(clocks(before, newYork)).toEqual([
    expect.stringMatching(/^05:5\d$/),
    expect.stringMatching(/^17:4\d$/),
  ]);
  expect(clocks(after, newYork)).toEqual([
    expect.stringMatching(/^06:5\d$/),
    expect.stringMatching(/^18:4\d$/),
  ]);
});

test("the sun jumps an hour back when the clocks go back (first Sunday of November, 15 U.S.C. 260a)", () => {
  const [before, after] = ["2027-11-06", "2027-11-07"].map((date) =>
    clocks(lightOn(portland, civilDate(date), newYork, sunOnly), newYork),
  );
  expect(before?.[1]).toMatch(/^17:2\d$/);
  expect(after?.[1]).toMatch(/^16:2\d$/);
});

function wholeDayLength(zone: string, date: string): number {
  const working = workingLight({ kind: "all-day", first: null, last: null }, civilDate(date), zone, 15);
  return (working?.end ?? NaN) - (working?.start ?? NaN);
}

test("the light of a whole day is 23, 24 or 25 hours long where the sun does not set", () => {
  expect(wholeDayLength(alaska, "2026-06-21")).toBe(24 * 60);
  expect(wholeDayLength(newYork, "2027-03-14")).toBe(23 * 60);
  expect(wholeDayLength(newYork, "2027-11-07")).toBe(25 * 60);
});

test("a date on which the sun does not set has light all day, without a margin", () => {
  const date = civilDate("2026-06-21");
  const light = lightOn(utqiagvik, date, alaska, sunOnly);
  expect(light).toEqual({ kind: "all-day", first: null, last: null });
  expect(workingLight(light, date, alaska, 15)).toEqual({
    start: dayStart(date, alaska),
    end: dayStart(addDays(date, 1), alaska),
  });
});

test("a date on which the sun does not rise has no light", () => {
  const date = civilDate("2026-12-21");
  const light = lightOn(utqiagvik, date, alaska, sunOnly);
  expect(light).toEqual({ kind: "none", first: null, last: null });
  expect(workingLight(light, date, alaska, 0)).toBeNull();
});

test("the polar night still has civil twilight to work by where the company allows it", () => {
  const light = lightOn(utqiagvik, civilDate("2026-12-21"), alaska, civil);
  expect(clocks(light, alaska)).toEqual(["11:57", "14:54"]);
});

test("light that has no dusk ends at local midnight, and begins at sunrise", () => {
  const date = civilDate("2026-06-21");
  const anchorage = { lat: 61.2181, lon: -149.9003 };
  const light = lightOn(anchorage, date, alaska, { firstLight: "sunrise", lastLight: "civil-dusk" });
  expect(light.kind).toBe("sun");
  expect(light.last).toBe(dayStart(addDays(date, 1), alaska));
  expect(clocks(light, alaska)[0]).toBe("04:21");
});

test("light that has no dawn begins at local midnight, and ends at sunset", () => {
  const date = civilDate("2026-06-21");
  const anchorage = { lat: 61.2181, lon: -149.9003 };
  const light = lightOn(anchorage, date, alaska, { firstLight: "civil-dawn", lastLight: "sunset" });
  expect(light.first).toBe(dayStart(date, alaska));
  expect(clocks(light, alaska)[1]).toBe("23:42");
});

test("sunset may fall on the next calendar date and still ends the light of this one", () => {
  const date = civilDate("2026-06-21");
  const light = lightOn(fairbanks, date, alaska, sunOnly);
  expect(toIso(light.last ?? NaN, alaska)).toMatch(/^2026-06-22T00:4\d:00-08:00$/);
  expect(light.first).toBeLessThan(light.last ?? NaN);
});

test("light up to civil dusk never ends before sunset, even where sunset comes after midnight", () => {
  const date = civilDate("2026-06-21");
  const wide = lightOn(fairbanks, date, alaska, { firstLight: "sunrise", lastLight: "civil-dusk" });
  expect(wide.last).toBe(lightOn(fairbanks, date, alaska, sunOnly).last);
});

const farZones = [
  ["Kiritimati", 1.87, -157.4, "Pacific/Kiritimati"],
  ["Adak", 51.88, -176.66, "America/Adak"],
  ["Kathmandu", 27.72, 85.32, "Asia/Kathmandu"],
  ["Chatham Islands", -43.95, -176.56, "Pacific/Chatham"],
  ["Apia", -13.83, -171.77, "Pacific/Apia"],
  ["Kashgar", 39.47, 75.99, "Asia/Shanghai"],
] as const;

for (const [name, lat, lon, zone] of farZones) {
  test(`in ${name}, far from its zone's meridian, each date gets the light of that date`, () => {
    for (let i = 0; i < 365; i++) {
      const date = addDays(civilDate("2026-01-01"), i);
      const light = lightOn({ lat, lon }, date, zone, sunOnly);
      expect(civilDateAt(light.first ?? NaN, zone)).toBe(date);
      expect(civilDateAt(light.last ?? NaN, zone)).toBe(date);
    }
  });
}

test("light in hand is positive for light left after the shift and negative for shift time in the dark", () => {
  const date = civilDate("2026-12-08");
  const light: DayLight = {
    kind: "sun",
    first: minuteAt(date, "07:00", newYork),
    last: minuteAt(date, "16:05", newYork),
  };
  expect(lightInHandMinutes(light, 15, minuteAt(date, "15:30", newYork))).toBe(20);
  expect(lightInHandMinutes(light, 15, minuteAt(date, "16:30", newYork))).toBe(-40);
  expect(lightInHandMinutes({ kind: "all-day", first: null, last: null }, 15, 0)).toBeNull();
});

test("tools go down early enough to cover up and clean up before dark and before the shift ends", () => {
  const date = civilDate("2026-12-08");
  const light: DayLight = {
    kind: "sun",
    first: minuteAt(date, "07:00", newYork),
    last: minuteAt(date, "16:05", newYork),
  };
  const down = (shiftEnd: string) => toolsDown(light, 15, minuteAt(date, shiftEnd, newYork), 60) ?? NaN;
  expect(clockAt(down("17:00"), newYork)).toBe("14:50");
  expect(clockAt(down("15:30"), newYork)).toBe("14:30");
  expect(toolsDown({ kind: "all-day", first: null, last: null }, 15, 900, 60)).toBe(840);
  expect(toolsDown({ kind: "none", first: null, last: null }, 15, 900, 60)).toBeNull();
});

test("a place that is none is a bug, not a polar night", () => {
  const date = civilDate("2026-12-08");
  expect(() => lightOn({ lat: 91, lon: 0 }, date, "UTC", sunOnly)).toThrow(
    "latitude 91 is not within -90 to 90",
  );
  expect(() => lightOn({ lat: NaN, lon: 0 }, date, "UTC", sunOnly)).toThrow("latitude NaN");
  expect(() => lightOn({ lat: 0, lon: 181 }, date, "UTC", sunOnly)).toThrow("longitude 181");
});
