/** Whom a hold stops, and when. */
import { expect, test } from "vitest";
import type { Hold } from "../../src/domain/company-schema.js";
import { toIso } from "../../src/domain/time.js";
import { appliesTo, intervalOfHold, listHoldsOf } from "../../src/weather/hold-list.js";

const siding = { id: "siding", outdoor: true };
const shop = { id: "shop", outdoor: false };

function hold(overrides: Partial<Hold> = {}): Hold {
  return {
    id: "h1",
    from: "2027-03-17T00:00",
    to: "2027-03-18T00:00",
    trades: "outdoor",
    jobs: "all",
    why: "rain",
    source: "hand",
    ...overrides,
  };
}

test("a hold on outdoor work stops every trade that is worked outdoors, and no other", () => {
  expect(appliesTo(hold(), siding, "spruce-14")).toBe(true);
  expect(appliesTo(hold(), shop, "spruce-14")).toBe(false);
});

test("a hold on all trades stops the shop too", () => {
  expect(appliesTo(hold({ trades: "all" }), shop, "spruce-14")).toBe(true);
});

test("a hold on named trades or houses stops only those", () => {
  expect(appliesTo(hold({ trades: ["stone"] }), siding, "spruce-14")).toBe(false);
  expect(appliesTo(hold({ trades: ["siding"], jobs: ["elm-2"] }), siding, "spruce-14")).toBe(false);
  expect(appliesTo(hold({ trades: ["siding"], jobs: ["elm-2", "spruce-14"] }), siding, "spruce-14")).toBe(
    true,
  );
  expect(appliesTo(hold({ trades: [], jobs: "all" }), siding, "spruce-14")).toBe(false);
});

test("a hold without an offset is wall time of the house", () => {
  const east = intervalOfHold(hold(), "America/New_York");
  const west = intervalOfHold(hold(), "America/Los_Angeles");
  expect(toIso(east.start, "America/New_York")).toBe("2027-03-17T00:00:00-04:00");
  expect(west.start - east.start).toBe(180);
});

test("a hold with an offset is one instant for every house", () => {
  const fixed = hold({ from: "2027-03-17T13:00:00-04:00", to: "2027-03-17T15:00:00-04:00" });
  expect(intervalOfHold(fixed, "America/New_York")).toEqual(intervalOfHold(fixed, "Asia/Kathmandu"));
});

test("a hold over the day on which the clocks go forward lasts 23 hours", () => {
  const spring = intervalOfHold(
    hold({ from: "2027-03-14T00:00", to: "2027-03-15T00:00" }),
    "America/New_York",
  );
  expect(spring.end - spring.start).toBe(23 * 60);
});

test("the holds of a trade at a house come by start, and those that hold nothing are left out", () => {
  const holds = [
    hold({ id: "later", from: "2027-03-19", to: "2027-03-20" }),
    hold({ id: "empty", from: "2027-03-18", to: "2027-03-18" }),
    hold({ id: "elsewhere", jobs: ["elm-2"] }),
    hold({ id: "sooner" }),
  ];
  const found = listHoldsOf(holds, siding, "spruce-14", "America/New_York");
  expect(found.map((entry) => entry.hold.id)).toEqual(["sooner", "later"]);
});

test("a hold that ends before it begins holds nothing", () => {
  const backwards = intervalOfHold(hold({ from: "2027-03-18", to: "2027-03-17" }), "UTC");
  expect(backwards.end).toBe(backwards.start);
});
