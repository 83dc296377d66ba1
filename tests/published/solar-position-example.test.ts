/**
 * The worked example of the National Renewable Energy Laboratory's solar position algorithm (Reda and Andreas,
 * NREL/TP-560-34302): 17 October 2003, 39.742476 N, 105.1786 W, UTC−7.
 * The sunset printed there (17:20:19) is computed for the UT date and so belongs to the evening of the 16th.
 */
import { expect, test } from "vitest";
import { sunTimes } from "../../src/daylight/sun.js";
import { addDays, civilDate } from "../../src/domain/time.js";

const golden = { lat: 39.742476, lon: -105.1786 };
// A zone that keeps UTC−7 all year, as the example does.
const zone = "America/Phoenix";
const seventeenth = civilDate("2003-10-17");

function secondsFrom(ms: number | null, iso: string): number {
  return Math.abs((ms ?? NaN) - Date.parse(iso)) / 1000;
}

test("sunrise of the worked example is 06:12:43 local standard time", () => {
  expect(secondsFrom(sunTimes(golden, seventeenth, zone).sunrise, "2003-10-17T06:12:43-07:00")).toBeLessThan(
    10,
  );
});

test("transit of the worked example is 11.768045 hours local standard time", () => {
  const transit = Date.parse("2003-10-17T00:00:00-07:00") + 11.768045 * 3_600_000;
  expect(Math.abs(sunTimes(golden, seventeenth, zone).noon - transit)).toBeLessThan(10_000);
});

test("sunset on the local date of the worked example is 17:18:50, not the printed 17:20:19", () => {
  const { sunset } = sunTimes(golden, seventeenth, zone);
  expect(secondsFrom(sunset, "2003-10-17T17:18:50-07:00")).toBeLessThan(10);
  expect(secondsFrom(sunset, "2003-10-17T17:20:19-07:00")).toBeGreaterThan(60);
});

test("the printed sunset of the worked example is that of the evening before", () => {
  const { sunset } = sunTimes(golden, addDays(seventeenth, -1), zone);
  expect(secondsFrom(sunset, "2003-10-16T17:20:19-07:00")).toBeLessThan(10);
});
