/** Forms filled with anything at all, on a real desk and its database: never an error of the program. */
import * as fc from "fast-check";
import { expect, it } from "vitest";
import { EDITED_COMPANY, useEditing } from "./editing.js";

const editing = useEditing();

const FORMS: readonly (readonly [path: string, fields: readonly string[]])[] = [
  ["/jobs/harbor-12/promised", ["promised", "reason"]],
  ["/jobs/harbor-12/deliveries/d1", ["expected", "received", "reason"]],
  ["/jobs/harbor-12/tasks/t2", ["status", "leftHours", "doneBy", "startedAt", "finishedAt", "reason"]],
  ["/crews/alder/days-off", ["from", "to", "why"]],
  ["/crews/alder/days-off/remove", ["from", "to", "why", "reason"]],
  ["/holds", ["from", "to", "trades", "trade", "jobs", "job", "why"]],
  ["/holds/wet", ["from", "to", "trades", "trade", "jobs", "job", "why", "reason"]],
  ["/holds/wet/lift", ["reason"]],
  ["/record/1/undo", ["reason", "query"]],
  ["/record/2/undo", ["reason", "query"]],
  ["/company-file/load", ["file", "reason"]],
  ["/ways/take", ["slip", "plan", "asOf", "way", "digest", "publish", "crew", "from"]],
];
const PAGES = ["/record", "/plans", "/crews", "/holds", "/jobs/harbor-12", "/company-file", "/slip"];

const anyText = fc.oneof(
  fc.constantFrom(
    "",
    "2026-12-08",
    "2026-12-08T07:30",
    "done",
    "under-way",
    "alder",
    "all",
    "outdoor",
    "some",
    "yes",
    "6",
    "-0",
    "1e9",
  ),
  fc.constantFrom(
    "\u0000",
    "\ud800",
    "x".repeat(3_000),
    "2026-12-08T07:30+99:99",
    "0000-00-00",
    "constructor",
    "__proto__",
    "<b>'\";--",
  ),
  fc.string({ unit: "binary", maxLength: 20 }),
);
const anyVersion = fc.constantFrom("1", "2", "999999999999999", "0", "-1", "x", "");

it("no form and no question to a page of the office ends in an error of the program", async () => {
  const house = await editing.open(EDITED_COMPANY);
  const statuses = new Set<number>();
  await fc.assert(
    fc.asyncProperty(
      fc.constantFrom(...FORMS),
      anyVersion,
      fc.array(fc.option(anyText, { freq: 8 }), { minLength: 8, maxLength: 8 }),
      async ([path, fields], version, texts) => {
        const body = new URLSearchParams({ version });
        fields.forEach((field, nth) => {
          const text = texts[nth];
          if (typeof text === "string") body.append(field, text);
        });
        const { status } = await house.app.post(path, body);
        statuses.add(status);
        expect([303, 404, 409, 422]).toContain(status);
      },
    ),
    { numRuns: 300 },
  );
  await fc.assert(
    fc.asyncProperty(
      fc.constantFrom(...PAGES),
      fc.dictionary(fc.constantFrom("person", "kind", "thing", "from", "to", "before", "toString"), anyText),
      async (path, query) => {
        const { status } = await house.app.get(`${path}?${new URLSearchParams(query).toString()}`);
        expect([200, 422]).toContain(status);
      },
    ),
    { numRuns: 200 },
  );
  expect([...statuses].toSorted((left, right) => left - right)).toEqual([303, 409, 422]);
}, 120_000);
