/** What stands under and in the place of a photo, and beside which task it is shown. */
import { describe, expect, it } from "vitest";
import { buildPhotoViews, groupByTask, type PhotoFacts } from "../../src/board/photo-view.js";
import { parseCompany } from "../../src/domain/company-file.js";
import { aCompany, aJob, aTask } from "../support/company-builder.js";

const parsed = parseCompany(
  aCompany({
    jobs: [
      aJob({
        id: "harbor-12",
        name: "12 Harbor Road",
        tasks: [aTask({ id: "t1", title: "Siding", area: "front" })],
      }),
    ],
  }),
);
if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
const company = parsed.value;

const PHOTO: PhotoFacts = {
  id: 7,
  jobId: "harbor-12",
  taskId: "t1",
  crewId: "alder",
  takenAt: new Date("2026-12-08T19:15:00Z"),
  width: 1200,
  height: 1600,
};

describe("a photo on a page", () => {
  it("says what it is of, who took it and when by the clock of the house", () => {
    const [view] = buildPhotoViews(company, [PHOTO], "en");
    expect(view).toEqual({
      id: 7,
      width: 240,
      height: 320,
      alt: "Photo of 12 Harbor Road: Siding, front by Alder, Tue 8 Dec, 2:15 pm",
      caption: "Alder, Tue 8 Dec, 2:15 pm",
    });
  });

  it("says so in Spanish to a crew that reads Spanish", () => {
    const [view] = buildPhotoViews(company, [{ ...PHOTO, taskId: null }], "es");
    expect(view?.alt).toBe("Foto de 12 Harbor Road, de Alder, mar 8 dic, 2:15 p.m.");
  });

  it("of a house, a crew or a task that is gone still says what it was called in the file", () => {
    const gone = { ...PHOTO, jobId: "gone-1", taskId: "t9", crewId: "gone-crew" };
    expect(buildPhotoViews(company, [gone], "en")[0]?.alt).toMatch(/^Photo of gone-1 by gone-crew, /);
  });

  it("stands beside its task, and beside the house where it is of none that there is", () => {
    const photos = [PHOTO, { ...PHOTO, id: 8, taskId: null }, { ...PHOTO, id: 9, taskId: "t9" }];
    const groups = groupByTask(photos, ["t1", "t2"]);
    const idsOf = (task: string | null) => groups.get(task)?.map(({ id }) => id);
    expect([idsOf("t1"), idsOf("t2"), idsOf(null)]).toEqual([[7], undefined, [8, 9]]);
  });
});
