/**
 * A company in which a day off of one crew moves work, and with it a homeowner's, a subcontractor's and a supplier's
 * dates. As of Thursday 3 December 2026: Alder is at 12 Harbor Road on Friday and at 14 Spruce Lane on Monday.
 */
import type { CompanyInput } from "../../src/domain/company-schema.js";
import { aCompany, aCrew, aJob, aTask } from "./company-builder.js";

export const PUBLISHED_COMPANY: CompanyInput = aCompany({
  crews: [
    aCrew({ trades: { siding: 1 } }),
    aCrew({ id: "birch", name: "Birch", lead: "Mateo", trades: { stone: 1 }, kind: "sub" }),
  ],
  jobs: [
    aJob({ id: "harbor-12", name: "12 Harbor Road", tasks: [aTask({ id: "t1", laborHours: 21 })] }),
    aJob({
      id: "spruce-14",
      promised: "2026-12-08",
      tasks: [
        aTask({ id: "t1", laborHours: 21, needs: ["boards"] }),
        aTask({ id: "t2", trade: "stone", title: "Set stone", laborHours: 12, after: [{ task: "t1" }] }),
      ],
      deliveries: [{ id: "boards", what: "siding boards", expected: "2026-12-05" }],
    }),
  ],
});
