/** Which holds a forecast calls for. */
import { expect, test } from "vitest";
import type { Trade } from "../../src/domain/company-schema.js";
import type { ForecastHour } from "../../src/weather/forecast.js";
import { proposeHolds } from "../../src/weather/proposed-holds.js";

const noLimits: Trade["limits"] = {
  minF: null,
  maxF: null,
  gustMph: null,
  rainInchesPerHour: null,
  rainChancePct: null,
};

function trade(id: string, limits: Partial<Trade["limits"]>, outdoor = true): Trade {
  return {
    id,
    name: { en: id, es: id },
    stamp: "XX",
    outdoor,
    setupMinutes: 0,
    cleanupMinutes: 0,
    limits: { ...noLimits, ...limits },
  };
}

function hour(n: number, values: Partial<ForecastHour> = {}): ForecastHour {
  return {
    start: n * 60,
    tempF: 60,
    gustMph: 10,
    rainInchesPerHour: 0,
    rainChancePct: 10,
    ...values,
  };
}

const day = { start: 0, end: 24 * 60 };

test("neighbouring hours past a limit are one hold, and its reason gives the worst of them", () => {
  const hours = [
    hour(8, { gustMph: 31 }),
    hour(9, { gustMph: 38 }),
    hour(10, { gustMph: 12 }),
    hour(13, { gustMph: 33 }),
  ];
  const holds = proposeHolds([trade("siding", { gustMph: 30 })], { hours }, day);
  expect(holds).toEqual([
    {
      start: 8 * 60,
      end: 10 * 60,
      trades: ["siding"],
      why: {
        en: "Forecast: gusts up to 38 mph (limit 30 mph).",
        es: "Pronóstico: ráfagas de hasta 38 mph (límite 30 mph).",
      },
    },
    {
      start: 13 * 60,
      end: 14 * 60,
      trades: ["siding"],
      why: {
        en: "Forecast: gusts up to 33 mph (limit 30 mph).",
        es: "Pronóstico: ráfagas de hasta 33 mph (límite 30 mph).",
      },
    },
  ]);
});

test("a limit is the last value at which a trade is still worked", () => {
  const limited = [
    trade("a", { gustMph: 30 }),
    trade("b", { minF: 40 }),
    trade("c", { maxF: 90 }),
    trade("d", { rainChancePct: 60 }),
    trade("e", { rainInchesPerHour: 0.02 }),
  ];
  const at = [
    hour(8, { gustMph: 30, rainChancePct: 60, rainInchesPerHour: 0.02, tempF: 40 }),
    hour(9, { tempF: 90 }),
  ];
  expect(proposeHolds(limited, { hours: at }, day)).toEqual([]);
  const past = [
    hour(8, { gustMph: 31, rainChancePct: 61, rainInchesPerHour: 0.03, tempF: 39 }),
    hour(9, { tempF: 91 }),
  ];
  expect(
    proposeHolds(limited, { hours: past }, day)
      .flatMap((hold) => hold.trades)
      .toSorted(),
  ).toEqual(["a", "b", "c", "d", "e"]);
});

test("what the forecast does not know holds nothing", () => {
  const unknown = hour(8, { tempF: null, gustMph: null, rainChancePct: null, rainInchesPerHour: null });
  const strict = trade("stone", { minF: 40, maxF: 41, gustMph: 0, rainInchesPerHour: 0, rainChancePct: 0 });
  expect(proposeHolds([strict], { hours: [unknown] }, day)).toEqual([]);
});

test("a trade without limits, and a trade indoors, is never held", () => {
  const storm = { hours: [hour(8, { gustMph: 90, rainInchesPerHour: 2, rainChancePct: 100, tempF: -10 })] };
  expect(proposeHolds([trade("a", {}), trade("shop", { gustMph: 1 }, false)], storm, day)).toEqual([]);
});

test("trades that share hours and reason share a hold", () => {
  const holds = proposeHolds(
    [trade("siding", { gustMph: 30 }), trade("stone", { minF: 40 }), trade("wrb", { gustMph: 30 })],
    { hours: [hour(8, { gustMph: 40, tempF: 35 })] },
    day,
  );
  expect(holds.map((hold) => hold.trades)).toEqual([["siding", "wrb"], ["stone"]]);
  expect(holds[1]?.why.en).toBe("Forecast: down to 35 °F (limit 40 °F).");
});

test("hours with different reasons that touch are one hold with all its reasons", () => {
  const holds = proposeHolds(
    [trade("tear-off", { gustMph: 25, rainInchesPerHour: 0, rainChancePct: 49 })],
    { hours: [hour(8, { gustMph: 28 }), hour(9, { rainChancePct: 80, rainInchesPerHour: 0.1 })] },
    day,
  );
  expect(holds).toHaveLength(1);
  expect(holds[0]?.why.en).toBe(
    "Forecast: rain up to 0.1 in. an hour (limit 0 in.), rain chance up to 80 % (limit 49 %), gusts up to 28 mph (limit 25 mph).",
  );
});

test("a hold stays inside the window that was asked about", () => {
  const hours = [7, 8, 9].map((n) => hour(n, { gustMph: 50 }));
  const holds = proposeHolds(
    [trade("siding", { gustMph: 30 })],
    { hours },
    { start: 7 * 60 + 30, end: 9 * 60 },
  );
  expect(holds.map(({ start, end }) => [start, end])).toEqual([[7 * 60 + 30, 9 * 60]]);
});

test("the order of the forecast's hours does not matter", () => {
  const hours = [hour(9, { gustMph: 50 }), hour(8, { gustMph: 40 })];
  const holds = proposeHolds([trade("siding", { gustMph: 30 })], { hours }, day);
  expect(holds.map(({ start, end }) => [start, end])).toEqual([[8 * 60, 10 * 60]]);
});

function firstReason(limits: Partial<Trade["limits"]>, values: Partial<ForecastHour>): string | undefined {
  return proposeHolds([trade("a", limits)], { hours: [hour(8, values)] }, day)[0]?.why.en;
}

test("a value just past its limit never reads like the limit", () => {
  expect(firstReason({ gustMph: 30 }, { gustMph: 30.2 })).toBe(
    "Forecast: gusts up to 31 mph (limit 30 mph).",
  );
  expect(firstReason({ minF: 40 }, { tempF: 39.8 })).toBe("Forecast: down to 39 °F (limit 40 °F).");
  expect(firstReason({ rainInchesPerHour: 0 }, { rainInchesPerHour: 0.004 })).toBe(
    "Forecast: rain up to 0.01 in. an hour (limit 0 in.).",
  );
});
