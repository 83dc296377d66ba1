/** The page of ways out asked for anything at all: an answer always, never an error of the program, and nothing written. */
import * as fc from "fast-check";
import { expect, it } from "vitest";
import { SLIP_FIELDS } from "../../src/web/slip-form.js";
import { EDITED_COMPANY, useEditing } from "./editing.js";

const editing = useEditing();

const KINDS = Object.keys(SLIP_FIELDS);
const FIELDS = [...new Set(Object.values(SLIP_FIELDS).flat())];
const MORE_FIELDS = ["chosen", "resequence", "lend", "stretch", "saturday", "wish", "wishTask", "wishCrew"];
const anyText = fc.oneof(
  fc.constantFrom("harbor-12/t1", "harbor-12/t2", "harbor-12/w1", "harbor-12/d1", "harbor-12", "cove-3"),
  fc.constantFrom("after:harbor-12/t2", "before:harbor-12/t1", "alder", "birch", "sheathing", "half", "more"),
  fc.constantFrom("2026-12-08", "2026-12-10", "2026-12-01", "2099-01-01", "0000-00-00", "6", "1e9", "-1"),
  fc.constantFrom(
    "yes",
    "keep-crew",
    "pin-crew",
    "constructor",
    "__proto__",
    "\u0000",
    "\ud800",
    "x".repeat(3_000),
  ),
  fc.string({ unit: "binary", maxLength: 12 }),
);

it("whatever is asked of the ways out is answered, and writes nothing", async () => {
  const house = await editing.open(EDITED_COMPANY);
  const before = house.desk.current().version;
  const statuses = new Set<number>();
  await fc.assert(
    fc.asyncProperty(
      fc.constantFrom("/ways", "/ways/look"),
      fc.oneof(fc.constantFrom(...KINDS), anyText),
      fc.dictionary(fc.constantFrom(...FIELDS, ...MORE_FIELDS), anyText, { maxKeys: 8 }),
      async (path, slip, fields) => {
        const query = new URLSearchParams({ ...fields, slip, way: "hold" });
        const { status } = await house.app.get(`${path}?${query.toString()}`);
        statuses.add(status);
        expect([200, 404, 409, 422]).toContain(status);
      },
    ),
    { numRuns: 200 },
  );
  expect([...statuses]).toEqual(expect.arrayContaining([200, 422]));
  expect(house.desk.current().version).toBe(before);
}, 120_000);
