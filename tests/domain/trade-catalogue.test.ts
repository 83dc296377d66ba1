/** The trades a new company starts with. */
import { expect, test } from "vitest";
import { companySchema } from "../../src/domain/company-schema.js";
import { isTradeId, tradeCatalogue, tradeIds } from "../../src/domain/trade-catalogue.js";
import { tradeSteps } from "../../src/domain/trade-steps.js";
import { aCompany } from "../support/company-builder.js";

test("the catalogue can stand in a company file as it is", () => {
  const read = companySchema.shape.trades.parse(structuredClone(tradeCatalogue));
  expect(read).toEqual(tradeCatalogue);
});

test("every outdoor trade has the stamp of the board, and the shop is the only one indoors", () => {
  expect(tradeCatalogue.filter((trade) => trade.outdoor).map((trade) => trade.stamp)).toEqual([
    "TO",
    "SH",
    "RF",
    "WB",
    "WN",
    "TR",
    "SD",
    "ST",
    "CK",
    "RO",
    "GU",
  ]);
  expect(tradeCatalogue.filter((trade) => !trade.outdoor).map((trade) => trade.id)).toEqual(["shop"]);
});

test("no two trades share an id or a stamp", () => {
  expect(new Set(tradeCatalogue.map((trade) => trade.stamp)).size).toBe(tradeIds.length);
  expect(new Set(tradeIds).size).toBe(tradeIds.length);
});

test("trades that work on an open wall stop for any rain and at a rain chance of 50 %", () => {
  for (const id of ["tear-off", "sheathing", "reframe", "wrb", "windows"]) {
    const limits = tradeCatalogue.find((trade) => trade.id === id)?.limits;
    expect(limits?.rainInchesPerHour, id).toBe(0);
    expect(limits?.rainChancePct, id).toBeLessThan(50);
  }
});

test("mortar needs 40 °F (TMS 602), and sealant 40 to 90 °F (UFGS 07 92 00)", () => {
  const limitsOf = (id: string) => tradeCatalogue.find((trade) => trade.id === id)?.limits;
  expect(limitsOf("stone")?.minF).toBe(40);
  expect([limitsOf("caulk")?.minF, limitsOf("caulk")?.maxF]).toEqual([40, 90]);
});

test("a trade that a company has invented is not one of the catalogue's", () => {
  expect(isTradeId("siding")).toBe(true);
  expect(isTradeId("chimney")).toBe(false);
});

test("each trade's day has three to six steps", () => {
  for (const id of tradeIds) {
    expect(tradeSteps[id].length, id).toBeGreaterThanOrEqual(3);
    expect(tradeSteps[id].length, id).toBeLessThanOrEqual(6);
  }
});

test("a company with the catalogue's trades is a valid company", () => {
  const company = aCompany({ trades: structuredClone([...tradeCatalogue]), crews: [], jobs: [] });
  expect(companySchema.safeParse(company).success).toBe(true);
});
