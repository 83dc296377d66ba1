/** What holds say of the weather in people's own words. */
import { expect, it } from "vitest";
import { weatherSaid } from "../../src/board/weather-said.js";

const said = (...whys: string[]) => weatherSaid(whys.map((why) => ({ why })));
const NOTHING = { gustMph: null, tempF: null, heatIndexF: null, thunder: false };

it("a hold that says nothing of weather says nothing", () => {
  for (const why of ["", "Inspector on site", "window delivery", "rewinding the hose", "price list"]) {
    expect(said(why)).toEqual(NOTHING);
  }
});

it("wind counts with the largest figure that is named, and as 25 mph without one", () => {
  expect(said("gusts to 38 mph", "wind 20 mph").gustMph).toBe(38);
  expect(said("Rain and wind off the water all day").gustMph).toBe(25);
  expect(said("Ráfagas fuertes").gustMph).toBe(25);
  expect(said("mucho viento").gustMph).toBe(25);
});

it("cold, heat and thunder are heard in both languages", () => {
  expect(said("Freezing rain").tempF).toBe(32);
  expect(said("lluvia helada").tempF).toBe(32);
  expect(said("heat index to 98 °F").heatIndexF).toBe(98);
  expect(said("Calor").heatIndexF).toBe(80);
  expect(said("Thunderstorms after noon").thunder).toBe(true);
  expect(said("relámpagos").thunder).toBe(true);
});
