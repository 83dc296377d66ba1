/** Published weather figures, each with its source; "computed" marks arithmetic on a published formula. */
import { expect, test } from "vitest";
import { dewPointF, dewSpreadAllows } from "../../src/weather/dew-point.js";
import { heatBand, heatIndexF, windChillF } from "../../src/weather/heat-and-cold.js";
import {
  meanDailyF,
  needsColdWeatherSteps,
  needsHotWeatherSteps,
  nightProtection,
} from "../../src/weather/masonry-weather.js";
import { parseQuantity, parseValidTime, parseWindSpeedMph, toMph } from "../../src/weather/nws-values.js";
import { californiaSmokeRuleApplies, earliestAfterThunder } from "../../src/weather/stop-rules.js";
import { minuteAt, civilDate, clockAt, toIso } from "../../src/domain/time.js";

// NWS heat index equation; the chart values of NWS Little Rock (±1.3 °F, since charts disagree by a degree).
const heatRows = [
  [90, 70, 105.9, 106],
  [96, 65, 121.0, 121],
  [100, 40, 109.3, 109],
  [110, 40, 135.7, 136],
  [86, 90, 105.4, 105],
] as const;
for (const [tempF, humidity, equation, chart] of heatRows) {
  test(`the heat index of ${tempF} °F at ${humidity} % is ${equation} °F`, () => {
    expect(Math.abs(heatIndexF(tempF, humidity) - equation)).toBeLessThanOrEqual(0.1);
    expect(Math.abs(heatIndexF(tempF, humidity) - chart)).toBeLessThanOrEqual(1.3);
  });
}

test("dry air lowers the heat index: 100 °F at 10 % is 94.1 °F (NWS equation with its dry adjustment, computed)", () => {
  expect(Math.abs(heatIndexF(100, 10) - 94.1)).toBeLessThanOrEqual(0.1);
});

test("below 80 °F the simple formula gives the heat index: 70 °F at 50 % is 69.5 °F (NWS, computed)", () => {
  expect(Math.abs(heatIndexF(70, 50) - 69.5)).toBeLessThanOrEqual(0.1);
});

test("the worksite bands of heat begin at 91 °F and end at 103 and 115 °F (OSHA heat-index guide)", () => {
  expect([90.9, 91, 103, 103.1, 115, 115.1].map(heatBand)).toEqual([
    "lower",
    "moderate",
    "moderate",
    "high",
    "high",
    "very-high",
  ]);
});

// NWS wind chill chart (2001 formula).
const chillRows = [
  [0, 15, -19],
  [20, 15, 6],
  [-10, 20, -35],
] as const;
for (const [tempF, windMph, chart] of chillRows) {
  test(`the wind chill of ${tempF} °F at ${windMph} mph is ${chart} °F`, () => {
    expect(Math.abs((windChillF(tempF, windMph) ?? NaN) - chart)).toBeLessThanOrEqual(0.5);
  });
}

test("above 50 °F, and up to 3 mph, there is no wind chill (NWS 2001)", () => {
  expect(windChillF(55, 20)).toBeNull();
  expect(windChillF(20, 3)).toBeNull();
  expect(windChillF(50, 4)).not.toBeNull();
});

// Magnus formula, computed.
const dewRows = [
  [50, 80, 44.1],
  [55, 90, 52.1],
  [70, 50, 50.5],
  [80, 60, 64.9],
  [40, 60, 27.2],
] as const;
for (const [tempF, humidity, dew] of dewRows) {
  test(`the dew point of ${tempF} °F at ${humidity} % is ${dew} °F`, () => {
    expect(Math.abs(dewPointF(tempF, humidity) - dew)).toBeLessThanOrEqual(0.2);
  });
}

test("a surface less than 5 °F above the dew point is not painted, sealed or taped (paint makers' bulletins)", () => {
  expect(dewSpreadAllows(55, 90)).toBe(false);
  expect(dewSpreadAllows(50, 80)).toBe(true);
  expect(dewSpreadAllows(50, 80, 49)).toBe(false);
});

test("masonry at 91 °F takes hot-weather steps when the wind is above 8 mph (TMS 602)", () => {
  expect(needsHotWeatherSteps(91, 9)).toBe(true);
  expect(needsHotWeatherSteps(91, 8)).toBe(false);
  expect(needsHotWeatherSteps(101, 0)).toBe(true);
  expect(needsHotWeatherSteps(90, 20)).toBe(false);
});

test("masonry below 40 °F takes cold-weather steps (TMS 602)", () => {
  expect(needsColdWeatherSteps(39)).toBe(true);
  expect(needsColdWeatherSteps(40)).toBe(false);
});

test("fresh masonry is covered overnight when the mean of high and low is below 40 °F (TMS 602)", () => {
  expect(meanDailyF(48, 30)).toBe(39);
  expect(nightProtection(48, 30)).toBe("cover");
  expect(nightProtection(50, 30)).toBe("none");
  expect([nightProtection(30, 18), nightProtection(24, 10)]).toEqual(["blankets", "heat"]);
});

test("12.5 m/s, the wind that many lifts are rated for, is 27.96 mph (computed)", () => {
  expect(Math.abs(toMph(12.5) - 27.96)).toBeLessThan(0.05);
});

test("wind written as a range counts as its upper end (api.weather.gov)", () => {
  expect(parseWindSpeedMph("5 to 10 mph")).toBe(10);
  expect(parseWindSpeedMph("10 mph")).toBe(10);
  expect(parseWindSpeedMph("16 km/h")).toBeCloseTo(9.94, 2);
});

test("wind that cannot be read is unknown, not calm", () => {
  expect([parseWindSpeedMph("breezy"), parseWindSpeedMph(null), parseWindSpeedMph("")]).toEqual([
    null,
    null,
    null,
  ]);
});

test("a validTime is a start and a duration (api.weather.gov, gridpoints)", () => {
  const interval = parseValidTime("2019-07-04T18:00:00+00:00/PT3H");
  expect(toIso(interval?.start ?? NaN, "UTC")).toBe("2019-07-04T18:00:00+00:00");
  expect(toIso(interval?.end ?? NaN, "UTC")).toBe("2019-07-04T21:00:00+00:00");
  const long = parseValidTime("2019-07-04T18:00:00+00:00/P1DT6H");
  expect((long?.end ?? NaN) - (long?.start ?? NaN)).toBe(30 * 60);
});

test("a validTime that is none is refused", () => {
  expect(
    ["2019-07-04T18:00:00+00:00", "PT3H", "x/PT3H", "2019-07-04T18:00:00+00:00/P"].map(parseValidTime),
  ).toEqual([undefined, undefined, undefined, undefined]);
});

test("a probability of precipitation without a value is unknown, not 0 (api.weather.gov)", () => {
  expect(parseQuantity({ unitCode: "wmoUnit:percent", value: null })).toBeNull();
  expect(parseQuantity({ unitCode: "wmoUnit:percent", value: 0 })).toBe(0);
  expect(parseQuantity(undefined)).toBeNull();
});

test("outdoor work waits for 30 minutes after the last thunder (OSHA and NOAA fact sheet 3863)", () => {
  const thunder = minuteAt(civilDate("2027-07-06"), "14:10", "America/New_York");
  expect(clockAt(earliestAfterThunder(thunder), "America/New_York")).toBe("14:40");
});

test("California's smoke rule begins at a PM2.5 index of 151 and more than one hour (8 CCR 5141.1)", () => {
  expect(californiaSmokeRuleApplies(150, 2)).toBe(false);
  expect(californiaSmokeRuleApplies(151, 2)).toBe(true);
  expect(californiaSmokeRuleApplies(151, 1)).toBe(false);
});
