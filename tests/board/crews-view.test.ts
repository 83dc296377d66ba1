/** The crews and their days off as the office reads them. */
import { expect, it } from "vitest";
import { buildCrewOffView, listCrewLines } from "../../src/board/crews-view.js";
import { present } from "../../src/domain/result.js";
import { civilDate } from "../../src/domain/time.js";
import { aCompany, aCrew, parsed } from "../support/company-builder.js";

const TODAY = civilDate("2026-12-03");
const company = parsed(
  aCompany({
    crews: [
      aCrew({
        trades: { stone: 1, siding: 1 },
        off: [
          { from: "2026-12-24", to: "2026-12-26", why: "holidays" },
          { from: "2026-11-26", to: "2026-11-26" },
          { from: "2026-12-03", to: "2026-12-03" },
        ],
      }),
      aCrew({ id: "birch", name: "Birch", size: 1, kind: "sub" }),
    ],
  }),
);

it("a crew's line has who it is, what it does and the days off that are not over", () => {
  expect(listCrewLines(company, TODAY)).toMatchObject([
    {
      name: "Alder",
      who: "Noor and 2 more",
      kind: "own crew",
      trades: "Siding, Stone",
      off: "Thursday 3 December; Thu 24 Dec to Sat 26 Dec",
    },
    { name: "Birch", who: "Noor", kind: "subcontractor", off: "none" },
  ]);
});

it("days off that are over come last", () => {
  const crew = present(company.crews[0], "the crew");
  expect(buildCrewOffView(crew, TODAY).off.map(({ days, isPast }) => [days, isPast])).toEqual([
    ["Thursday 3 December", false],
    ["Thu 24 Dec to Sat 26 Dec", false],
    ["Thursday 26 November", true],
  ]);
});
