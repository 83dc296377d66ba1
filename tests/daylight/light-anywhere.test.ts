/** What holds for the light of any place on earth, any zone and any date. */
import * as fc from "fast-check";
import { expect, test } from "vitest";
import { lightOn, workingLight, type LightLimits } from "../../src/daylight/light.js";
import { sunTimes } from "../../src/daylight/sun.js";
import { dateOfDayNumber } from "../../src/domain/time.js";

const zones = Intl.supportedValuesOf("timeZone");
// From 1970 to 2100; poles and the date line included.
const aDate = fc.integer({ min: 0, max: 47_846 }).map(dateOfDayNumber);
const aPlace = fc.record({
  lat: fc.oneof(
    fc.double({ min: -90, max: 90, noNaN: true }),
    fc.double({ min: 60, max: 90, noNaN: true }),
    fc.constantFrom(-90, 0, 90),
  ),
  lon: fc.oneof(fc.double({ min: -180, max: 180, noNaN: true }), fc.constantFrom(-180, 0, 180)),
});
const aZone = fc.constantFrom(...zones);
const someLimits: fc.Arbitrary<LightLimits> = fc.record({
  firstLight: fc.constantFrom("sunrise", "civil-dawn"),
  lastLight: fc.constantFrom("sunset", "civil-dusk"),
});

test("light is whole minutes, first before last, or it is all day, or there is none", () => {
  fc.assert(
    fc.property(aPlace, aDate, aZone, someLimits, (place, date, zone, limits) => {
      const light = lightOn(place, date, zone, limits);
      if (light.kind === "sun") {
        expect(Number.isSafeInteger(light.first) && Number.isSafeInteger(light.last)).toBe(true);
        expect(light.first).toBeLessThan(light.last ?? NaN);
      } else {
        expect([light.first, light.last]).toEqual([null, null]);
      }
    }),
    { seed: 20261208, numRuns: 2000 },
  );
});

test("no time of the sun is NaN, and dawn, sunrise, noon, sunset, dusk come in that order", () => {
  fc.assert(
    fc.property(aPlace, aDate, aZone, (place, date, zone) => {
      const { dawn, sunrise, noon, sunset, dusk } = sunTimes(place, date, zone);
      const times = [dawn, sunrise, noon, sunset, dusk].filter((ms) => ms !== null);
      expect(times.every(Number.isFinite)).toBe(true);
      expect(times).toEqual(times.toSorted((a, b) => a - b));
    }),
    { seed: 34302, numRuns: 2000 },
  );
});

test("a wider limit never gives less light", () => {
  const rank = { none: 0, sun: 1, "all-day": 2 };
  fc.assert(
    fc.property(aPlace, aDate, aZone, (place, date, zone) => {
      const narrow = lightOn(place, date, zone, { firstLight: "sunrise", lastLight: "sunset" });
      const wide = lightOn(place, date, zone, { firstLight: "civil-dawn", lastLight: "civil-dusk" });
      expect(rank[wide.kind]).toBeGreaterThanOrEqual(rank[narrow.kind]);
      if (narrow.kind === "sun" && wide.kind === "sun") {
        expect(wide.first).toBeLessThanOrEqual(narrow.first ?? NaN);
        expect(wide.last).toBeGreaterThanOrEqual(narrow.last ?? NaN);
      }
    }),
    { seed: 833, numRuns: 1000 },
  );
});

test("working light never reaches past last light less the margin, and is never empty", () => {
  fc.assert(
    fc.property(aPlace, aDate, aZone, fc.integer({ min: 0, max: 240 }), (place, date, zone, margin) => {
      const light = lightOn(place, date, zone, { firstLight: "sunrise", lastLight: "sunset" });
      const working = workingLight(light, date, zone, margin);
      if (working === null) return;
      expect(working.start).toBeLessThan(working.end);
      if (light.last !== null) expect(working.end).toBe(light.last - margin);
    }),
    { seed: 6, numRuns: 500 },
  );
});
