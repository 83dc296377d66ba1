/**
 * The definitions of the U.S. Naval Observatory: at sunrise and sunset the sun's centre is 50′ (0.833°) below a level
 * horizon (34′ refraction, 16′ radius); at civil dawn and dusk it is 6° below. The altitude is taken from
 * astronomy-engine, which shares no code with the module under test.
 */
import { Body, Equator, Horizon, Observer } from "astronomy-engine";
import { expect, test } from "vitest";
import { sunTimes } from "../../src/daylight/sun.js";
import { civilDate } from "../../src/domain/time.js";

const places = [
  ["Portland, Maine", 43.66, -70.26, "America/New_York"],
  ["Nome, Alaska", 64.5, -165.41, "America/Nome"],
  ["Quito", -0.18, -78.47, "America/Guayaquil"],
  ["Punta Arenas", -53.16, -70.91, "America/Punta_Arenas"],
] as const;
const dates = ["2026-03-20", "2026-06-21", "2026-12-21"] as const;

function altitude(lat: number, lon: number, ms: number | null): number {
  const when = new Date(ms ?? NaN);
  const observer = new Observer(lat, lon, 0);
  const sun = Equator(Body.Sun, when, observer, true, true);
  return Horizon(when, observer, sun.ra, sun.dec).altitude;
}

for (const [name, lat, lon, zone] of places) {
  for (const date of dates) {
    const times = sunTimes({ lat, lon }, civilDate(date), zone);
    test(`the sun's centre is 0.833° below the horizon at sunrise and sunset (${name}, ${date})`, () => {
      expect(Math.abs(altitude(lat, lon, times.sunrise) + 0.833)).toBeLessThan(0.02);
      expect(Math.abs(altitude(lat, lon, times.sunset) + 0.833)).toBeLessThan(0.02);
    });
    // In Nome the sun stays above −6° around midsummer.
    if (times.civilStays === null) {
      test(`the sun's centre is 6° below the horizon at civil dawn and dusk (${name}, ${date})`, () => {
        expect(Math.abs(altitude(lat, lon, times.dawn) + 6)).toBeLessThan(0.02);
        expect(Math.abs(altitude(lat, lon, times.dusk) + 6)).toBeLessThan(0.02);
      });
    }
  }
}

test("the sun stays above −6° all night in Nome at midsummer, although it sets", () => {
  const times = sunTimes({ lat: 64.5, lon: -165.41 }, civilDate("2026-06-21"), "America/Nome");
  expect(times.civilStays).toBe("up");
  expect(times.sunStays).toBeNull();
});
