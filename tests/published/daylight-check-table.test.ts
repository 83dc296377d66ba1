/**
 * Check times of the sun. Rows without a remark: sun's centre at −0.8333° / −6°, computed with astronomy-engine 2.1.19
 * and checked against published solar position values to 2 s. "NREL" rows: the laboratory's calculator, as printed in
 * public test suites. "USNO" rows: whole minutes of the Naval Observatory. Local clock, daylight time where it is used.
 */
import { expect, test } from "vitest";
import { sunTimes, type SunTimes } from "../../src/daylight/sun.js";
import { civilDate, dayStart, clockAt } from "../../src/domain/time.js";

type Event = "dawn" | "sunrise" | "noon" | "sunset" | "dusk";
const events: readonly Event[] = ["dawn", "sunrise", "noon", "sunset", "dusk"];
type Row = readonly [
  city: string,
  lat: number,
  lon: number,
  zone: string,
  date: string,
  times: readonly (string | null)[],
];

const rows: readonly Row[] = [
  [
    "New York",
    40.7128,
    -74.006,
    "America/New_York",
    "2026-03-20",
    ["06:32:01", "06:59:18", "13:03:23", "19:08:11", "19:35:31"],
  ],
  [
    "New York",
    40.7128,
    -74.006,
    "America/New_York",
    "2026-06-21",
    ["04:51:35", "05:25:01", "12:57:53", "20:30:44", "21:04:09"],
  ],
  [
    "New York",
    40.7128,
    -74.006,
    "America/New_York",
    "2026-09-22",
    ["06:16:18", "06:43:38", "12:48:40", "18:53:02", "19:20:19"],
  ],
  [
    "New York",
    40.7128,
    -74.006,
    "America/New_York",
    "2026-12-21",
    ["06:45:34", "07:16:34", "11:54:11", "16:31:47", "17:02:47"],
  ],
  [
    "Chicago",
    41.8781,
    -87.6298,
    "America/Chicago",
    "2026-06-21",
    ["04:41:08", "05:15:31", "12:52:23", "20:29:14", "21:03:37"],
  ],
  [
    "Chicago",
    41.8781,
    -87.6298,
    "America/Chicago",
    "2026-12-21",
    ["06:43:08", "07:14:50", "11:48:42", "16:22:33", "16:54:16"],
  ],
  [
    "Denver",
    39.7392,
    -104.9903,
    "America/Denver",
    "2026-06-21",
    ["04:59:30", "05:32:11", "13:01:50", "20:31:28", "21:04:09"],
  ],
  [
    "Denver",
    39.7392,
    -104.9903,
    "America/Denver",
    "2026-12-21",
    ["06:47:05", "07:17:32", "11:58:10", "16:38:47", "17:09:14"],
  ],
  [
    "Los Angeles",
    34.0522,
    -118.2437,
    "America/Los_Angeles",
    "2026-06-21",
    ["05:12:48", "05:42:03", "12:54:51", "20:07:39", "20:36:54"],
  ],
  [
    "Los Angeles",
    34.0522,
    -118.2437,
    "America/Los_Angeles",
    "2026-12-21",
    ["06:26:52", "06:54:41", "11:51:12", "16:47:42", "17:15:31"],
  ],
  [
    "Seattle",
    47.6062,
    -122.3321,
    "America/Los_Angeles",
    "2026-06-21",
    ["04:30:50", "05:11:35", "13:11:13", "21:10:49", "21:51:34"],
  ],
  [
    "Seattle",
    47.6062,
    -122.3321,
    "America/Los_Angeles",
    "2026-12-21",
    ["07:18:43", "07:54:48", "12:07:33", "16:20:18", "16:56:23"],
  ],
  [
    "Miami",
    25.7617,
    -80.1918,
    "America/New_York",
    "2026-12-21",
    ["06:37:48", "07:03:01", "12:18:56", "17:34:51", "18:00:04"],
  ],
  [
    "Phoenix",
    33.4484,
    -112.074,
    "America/Phoenix",
    "2026-06-21",
    ["04:50:02", "05:19:00", "12:30:10", "19:41:20", "20:10:18"],
  ],
  [
    "Minneapolis",
    44.9778,
    -93.265,
    "America/Chicago",
    "2026-12-21",
    ["07:14:19", "07:48:11", "12:11:15", "16:34:18", "17:08:10"],
  ],
  [
    "Anchorage",
    61.2181,
    -149.9003,
    "America/Anchorage",
    "2026-06-21",
    [null, "04:20:16", "14:01:30", "23:42:41", null],
  ],
  [
    "Anchorage",
    61.2181,
    -149.9003,
    "America/Anchorage",
    "2026-12-21",
    ["09:11:59", "10:14:22", "12:57:52", "15:41:21", "16:43:45"],
  ],
  ["Utqiagvik", 71.2906, -156.7886, "America/Anchorage", "2026-06-21", [null, null, "14:29:03", null, null]],
  [
    "Utqiagvik",
    71.2906,
    -156.7886,
    "America/Anchorage",
    "2026-12-21",
    ["11:56:06", null, "13:25:26", null, "14:54:45"],
  ],
  [
    "Golden (NREL)",
    39.742476,
    -105.1786,
    "America/Denver",
    "2015-01-02",
    ["", "07:21:55", "12:04:45", "16:47:43", ""],
  ],
  [
    "Golden",
    39.742476,
    -105.1786,
    "America/Phoenix",
    "2015-08-02",
    ["", "05:00:27", "12:06:58", "19:12:53", ""],
  ],
  ["lat −35, lon 0 (NREL)", -35, 0, "UTC", "1996-07-05", ["", "07:08:15", "12:04:36", "17:01:04", ""]],
  ["lat −35, lon 0 (NREL)", -35, 0, "UTC", "2004-12-04", ["", "04:38:57", "11:50:22", "19:02:03", ""]],
];

function clock(times: SunTimes, event: Event, midnightMs: number): number | null {
  const ms = times[event];
  return ms === null ? null : (ms - midnightMs) / 1000;
}

function seconds(text: string): number {
  const [hours, minutes, secs] = text.split(":").map(Number);
  return (hours ?? NaN) * 3600 + (minutes ?? NaN) * 60 + (secs ?? NaN);
}

for (const [city, lat, lon, zone, date, expected] of rows) {
  test(`the sun of ${city} on ${date} keeps the check table within ten seconds`, () => {
    const day = civilDate(date);
    const times = sunTimes({ lat, lon }, day, zone);
    const midnightMs = dayStart(day, zone) * 60_000;
    events.forEach((event, i) => {
      const want = expected[i];
      if (want === "") return;
      const found = clock(times, event, midnightMs);
      if (want === null || want === undefined) return expect(found, event).toBeNull();
      return expect(Math.abs((found ?? NaN) - seconds(want)), `${event} ${want}`).toBeLessThan(10);
    });
  });
}

test("Utqiagvik has the sun up all day on 21 June and down all day, with civil twilight, on 21 December", () => {
  const utqiagvik = { lat: 71.2906, lon: -156.7886 };
  const june = sunTimes(utqiagvik, civilDate("2026-06-21"), "America/Anchorage");
  expect([june.sunStays, june.civilStays]).toEqual(["up", "up"]);
  const december = sunTimes(utqiagvik, civilDate("2026-12-21"), "America/Anchorage");
  expect([december.sunStays, december.civilStays]).toEqual(["down", null]);
});

const nearestMinute = (ms: number | null) => clockAt(Math.round((ms ?? NaN) / 60_000), "America/Phoenix");

test("sunrise and sunset of Golden round to the minutes of the Naval Observatory's almanac", () => {
  // USNO: 2015-01-01 07:22/16:47; 01-02 07:22/16:48; 01-03 07:22/16:49; 2015-08-02 05:00/19:13, all MST.
  const usno = [
    ["2015-01-01", "07:22", "16:47"],
    ["2015-01-02", "07:22", "16:48"],
    ["2015-01-03", "07:22", "16:49"],
    ["2015-08-02", "05:00", "19:13"],
  ] as const;
  for (const [date, rise, set] of usno) {
    const times = sunTimes({ lat: 39.742476, lon: -105.1786 }, civilDate(date), "America/Phoenix");
    expect([nearestMinute(times.sunrise), nearestMinute(times.sunset)]).toEqual([rise, set]);
  }
});
