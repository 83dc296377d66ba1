/**
 * Every day of 2026 at thirteen places against astronomy-engine (sun's centre at −0.8333° and −6°, sea level):
 * within 30 s up to 60° of latitude, within 60 s up to 65°. Where the sun grazes an altitude at midnight to within
 * 0.01°, the two may differ on whether it crosses it at all.
 */
import { Body, Equator, Horizon, Observer, SearchAltitude } from "astronomy-engine";
import { expect, test } from "vitest";
import { sunTimes } from "../../src/daylight/sun.js";
import { addDays, civilDate } from "../../src/domain/time.js";

const HALF_DAY_MS = 43_200_000;
const events = [
  ["dawn", 1, -6],
  ["sunrise", 1, -0.8333],
  ["sunset", -1, -0.8333],
  ["dusk", -1, -6],
] as const;

const places = [
  ["Quito", -0.18, -78.47, "America/Guayaquil"],
  ["Honolulu", 21.31, -157.86, "Pacific/Honolulu"],
  ["Kathmandu", 27.72, 85.32, "Asia/Kathmandu"],
  ["Kiritimati", 1.87, -157.4, "Pacific/Kiritimati"],
  ["Portland, Maine", 43.66, -70.26, "America/New_York"],
  ["Seattle", 47.61, -122.33, "America/Los_Angeles"],
  ["Adak", 51.88, -176.66, "America/Adak"],
  ["Chatham Islands", -43.95, -176.56, "Pacific/Chatham"],
  ["Ushuaia", -54.8, -68.3, "America/Argentina/Ushuaia"],
  ["Bergen", 59.95, 5.33, "Europe/Oslo"],
  ["Anchorage", 61.22, -149.9, "America/Anchorage"],
  ["Trondheim", 63.43, 10.4, "Europe/Oslo"],
  ["Fairbanks", 64.84, -147.72, "America/Anchorage"],
] as const;

function altitude(observer: Observer, ms: number): number {
  const sun = Equator(Body.Sun, new Date(ms), observer, true, true);
  return Horizon(new Date(ms), observer, sun.ra, sun.dec).altitude;
}

for (const [name, lat, lon, zone] of places) {
  const bar = Math.abs(lat) <= 60 ? 30 : 60;
  test(`every sunrise, sunset, dawn and dusk of a year in ${name} is within ${bar} s of astronomy-engine`, () => {
    const observer = new Observer(lat, lon, 0);
    let worst = 0;
    for (let i = 0; i < 365; i++) {
      const date = addDays(civilDate("2026-01-01"), i);
      const times = sunTimes({ lat, lon }, date, zone);
      for (const [event, direction, degrees] of events) {
        const from = direction === 1 ? times.noon - HALF_DAY_MS : times.noon;
        const reference = SearchAltitude(Body.Sun, observer, direction, new Date(from), 0.5, degrees);
        const found = times[event];
        if (reference !== null && found !== null) {
          worst = Math.max(worst, Math.abs(found - reference.date.getTime()) / 1000);
        } else if (reference !== null || found !== null) {
          const midnight = altitude(
            observer,
            direction === 1 ? times.noon - HALF_DAY_MS : times.noon + HALF_DAY_MS,
          );
          expect(
            Math.abs(midnight - degrees),
            `${date} ${event}: no graze, yet only one has the event`,
          ).toBeLessThan(0.01);
        }
      }
    }
    expect(worst).toBeGreaterThan(0);
    expect(worst).toBeLessThan(bar);
  });
}
