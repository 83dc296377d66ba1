/**
 * A company in which work can be moved: Alder and Birch do siding, Cedar does stone. All siding is planned with Alder; as of
 * `AFTERNOON` (Thursday 3 December 2026) the board of the next day has all of it that fits.
 */
import { aCompany, aCrew, aJob, aTask } from "../support/company-builder.js";

export const MOVING_COMPANY: unknown = aCompany({
  crews: [
    aCrew(),
    aCrew({ id: "birch", name: "Birch", lead: "Mateo", trades: { siding: 0.2, trim: 1 } }),
    aCrew({ id: "cedar", name: "Cedar", lead: "Imani", trades: { stone: 1 } }),
  ],
  jobs: [
    aJob({
      id: "harbor-12",
      name: "12 Harbor Road",
      promised: "2026-12-04",
      tasks: [
        aTask({ id: "front", title: "Side the front", crew: "alder" }),
        aTask({ id: "trim", trade: "trim", title: "Trim the porch", crew: "birch" }),
        aTask({ id: "begun", title: "Side the dormer", status: "under-way", doneBy: "alder", leftHours: 3 }),
      ],
    }),
    aJob({
      id: "cove-3",
      name: "3 Cove Street",
      site: { lat: 43.631, lon: -70.281 },
      tasks: [aTask({ id: "back", title: "Side the back", crew: "alder" })],
    }),
  ],
});
