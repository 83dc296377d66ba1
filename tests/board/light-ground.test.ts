/** The light behind the poles on dates and at places where it is unusual. */
import { describe, expect, it } from "vitest";
import { buildGround, type LightPlace } from "../../src/board/light-ground.js";
import { civilDate, clockAt } from "../../src/domain/time.js";
import { decemberCompany } from "./december-fixture.js";

const COAST: LightPlace = { name: "the yard", lat: 43.66, lon: -70.26, zone: "America/New_York" };
const NORTH: LightPlace = { name: "the yard", lat: 71.29, lon: -156.79, zone: "America/Anchorage" };
const groundOf = (place: LightPlace, date: string) => buildGround(decemberCompany(), place, civilDate(date));

describe("the ground of a board", () => {
  it("is one tone of day where the sun does not set, and has no chalk line", () => {
    const ground = groundOf(NORTH, "2026-06-21");
    expect(ground).toMatchObject({ sunrise: null, sunset: null });
    expect(ground.stops.map((stop) => stop.tone)).toEqual(["day"]);
  });

  it("never gets lighter than twilight where the sun does not rise, and leaves no outdoor work", () => {
    const ground = groundOf(NORTH, "2026-12-21");
    expect(ground.working).toBeNull();
    expect(ground.stops.map((stop) => stop.tone)).toEqual([
      "night",
      "twilight",
      "twilight",
      "twilight",
      "night",
    ]);
  });

  it("moves its sunset by an hour on the wall clock when the clocks change (15 U.S.C. 260a: 8 March 2026)", () => {
    const before = groundOf(COAST, "2026-03-07").sunset ?? 0;
    const after = groundOf(COAST, "2026-03-08").sunset ?? 0;
    expect(clockAt(before, COAST.zone).slice(0, 2)).toBe("17");
    expect(clockAt(after, COAST.zone).slice(0, 2)).toBe("18");
  });

  it("has its stops in the order of time on every day of a year", () => {
    for (let day = 0; day < 365; day += 1) {
      const date = new Date(Date.UTC(2026, 0, 1 + day)).toISOString().slice(0, 10);
      const times = groundOf(COAST, date).stops.map((stop) => stop.at);
      expect(times).toEqual([...times].sort((a, b) => a - b));
    }
  });
});
