/** Cure times against the published ones; which cautions a day calls for; both languages everywhere. */
import { expect, test } from "vitest";
import { cautionIds, DEFERRAL, listCautions, type WorkSituation } from "../../src/domain/cautions.js";
import { cures } from "../../src/domain/cures.js";
import { endOfDayList, listEndOfDay } from "../../src/domain/end-of-day.js";
import type { Text } from "../../src/domain/plan-format.js";
import { tradeCatalogue } from "../../src/domain/trade-catalogue.js";
import { tradeOrderRules } from "../../src/domain/trade-order-rules.js";
import { tradeSequences } from "../../src/domain/trade-sequence.js";
import { siteOrderRules, stepOrderRules } from "../../src/domain/trade-step-rules.js";
import { tradeSteps } from "../../src/domain/trade-steps.js";

const known: WorkSituation = {
  tradeIds: ["tear-off", "siding"],
  yearBuilt: 1999,
  highestWorkFt: 4,
  gustMph: 5,
  tempF: 60,
  thunder: false,
  asbestosPossible: false,
  powerNear: false,
  waterOrGasNear: false,
  digging: false,
};

function ids(situation: Partial<WorkSituation>): readonly string[] {
  return listCautions({ ...known, ...situation }).map((caution) => caution.id);
}

test("stone is set a day after the scratch coat (C1780 practice), two days over open studs (maker's table)", () => {
  expect(cures["scratch-coat"].lagHours).toBe(24);
  expect(cures["scratch-coat-open-studs"].lagHours).toBe(48);
});

test("a stucco base coat is kept moist for 48 hours (C926 practice)", () => {
  expect(cures["stucco-base-coat"].lagHours).toBe(48);
});

test("mortar is sealed after 28 days, and polyurethane caulk painted after 24 hours (makers)", () => {
  expect(cures["masonry-sealer"].lagHours).toBe(28 * 24);
  expect(cures["polyurethane-caulk"].lagHours).toBe(24);
});

test("every default lag lies within its published range", () => {
  for (const cure of Object.values(cures)) {
    expect(cure.lagHours, cure.what.en).toBeGreaterThanOrEqual(cure.lowHours);
    expect(cure.lagHours, cure.what.en).toBeLessThanOrEqual(cure.highHours);
  }
});

test("the lead caution is for houses built before 1978, or of unknown year (40 CFR 745)", () => {
  expect(ids({ yearBuilt: 1972 })).toContain("lead");
  expect(ids({ yearBuilt: 1977 })).toContain("lead");
  expect(ids({ yearBuilt: 1978 })).not.toContain("lead");
  expect(ids({ yearBuilt: null })).toContain("lead");
  expect(ids({ yearBuilt: 1972, tradeIds: ["shop"] })).not.toContain("lead");
});

test("replacing a window in a house of 1972 calls for the lead caution, whatever its size (40 CFR 745.83)", () => {
  expect(ids({ yearBuilt: 1972, tradeIds: ["windows"] })).toContain("lead");
});

test("fall protection begins at 6 ft, and an unknown height counts as high (29 CFR 1926.501(b)(13))", () => {
  expect(ids({ highestWorkFt: 6 })).toContain("fall");
  expect(ids({ highestWorkFt: 5 + 11 / 12 })).not.toContain("fall");
  expect(ids({ highestWorkFt: null })).toContain("fall");
});

test("wind is a caution from gusts of 20 mph, before ladders stop at 25", () => {
  expect(ids({ gustMph: 20 })).toContain("ladder-wind");
  expect(ids({ gustMph: 19 })).not.toContain("ladder-wind");
});

test("thunder, heat and cold are cautions only when the weather has them", () => {
  expect(ids({})).toEqual(["silica"]);
  expect(ids({ thunder: true, heatIndexF: 92 })).toEqual(["lightning", "heat", "silica"]);
  expect(ids({ tempF: 35, windChillF: 20 })).toEqual(["cold", "silica"]);
});

test("old siding is suspected of asbestos until a test says no", () => {
  expect(ids({ yearBuilt: 1960, asbestosPossible: null })).toContain("asbestos");
  expect(ids({ yearBuilt: 1960, asbestosPossible: false })).not.toContain("asbestos");
  expect(ids({ yearBuilt: 1960, asbestosPossible: null, tradeIds: ["caulk"] })).not.toContain("asbestos");
});

test("what nobody has looked at counts as dangerous", () => {
  const found = listCautions({ tradeIds: ["tear-off", "stone"], yearBuilt: null }).map(
    (caution) => caution.id,
  );
  expect(found).toEqual(["fall", "lead", "asbestos", "silica", "power", "water-gas", "dig"]);
});

test("a day in the shop calls for no caution about the house", () => {
  expect(listCautions({ tradeIds: ["shop"], yearBuilt: null })).toEqual([]);
});

test("each caution names its rule, and the list defers to local code and licensed practice", () => {
  const everything = listCautions({
    tradeIds: tradeCatalogue.map((trade) => trade.id),
    yearBuilt: null,
    gustMph: 30,
    heatIndexF: 95,
    windChillF: 0,
    thunder: true,
  });
  expect(everything.map((caution) => caution.id)).toEqual(cautionIds);
  expect(everything.every(({ rule }) => rule.en.length > 5 && rule.es.length > 5)).toBe(true);
  expect(DEFERRAL.en).toMatch(/local code.*licensed practice/i);
});

test("the evening's list asks for covers where a wall is open, and for ties where wind is coming", () => {
  const calm = listEndOfDay({ openWall: false, gustMph: 10 }).map((item) => item.id);
  expect(calm).toContain("magnet");
  expect(calm).not.toContain("cover");
  expect(calm).toContain("tie-down");
  expect(calm).not.toContain("tie-down-wind");
  expect(listEndOfDay({ openWall: true, gustMph: 25 })).toEqual(endOfDayList);
});

test("a text without its Spanish does not compile", () => {
  // @ts-expect-error: the Spanish is missing
  const halfSaid: Text = { en: "Windows before siding." };
  expect(Object.keys(halfSaid)).toEqual(["en"]);
});

test("every sentence is there in both languages, and says it differently", () => {
  const texts: Text[] = [
    ...tradeCatalogue.map((trade) => trade.name),
    ...[...tradeOrderRules, ...stepOrderRules, ...siteOrderRules].flatMap((rule) => [rule.rule, rule.why]),
    ...tradeSequences.flatMap(({ name, steps }) => [
      name,
      ...steps.flatMap((step) => [step.title, step.reason]),
    ]),
    ...Object.values(tradeSteps).flatMap((steps) => steps.flatMap(({ step, why }) => [step, why])),
    ...Object.values(cures).map((cure) => cure.what),
    ...endOfDayList.map((item) => item.text),
    ...listCautions({
      tradeIds: tradeCatalogue.map((trade) => trade.id),
      yearBuilt: null,
      thunder: true,
      gustMph: 30,
      heatIndexF: 95,
      windChillF: 0,
    }).map((caution) => caution.text),
    DEFERRAL,
  ];
  expect(texts.length).toBeGreaterThan(200);
  for (const { en, es } of texts) {
    expect(en.trim().length * es.trim().length, en).toBeGreaterThan(0);
    expect(es, en).not.toBe(en);
  }
});
