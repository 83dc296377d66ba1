/** The ledger, the houses, and the chain of reasons that both follow. */
import { describe, expect, it } from "vitest";
import { buildJobView, listJobLines } from "../../src/board/job-view.js";
import { buildReading } from "../../src/board/reading.js";
import { distantRoot, followReasons } from "../../src/board/reason-chain.js";
import { buildWaitingView } from "../../src/board/waiting-view.js";
import { present } from "../../src/domain/result.js";
import { civilDate } from "../../src/domain/time.js";
import { decemberCompany, decemberPlan } from "./december-fixture.js";

const reading = buildReading(decemberCompany(), decemberPlan());
const sheet = buildWaitingView(reading, civilDate("2026-12-07"), civilDate("2026-12-08"));
const cellOf = (job: string, column: string) => {
  const index = sheet.columns.findIndex((item) => item.name === column);
  return sheet.rows.find((row) => row.jobId === job)?.cells[index];
};

describe("the waiting sheet", () => {
  it("has a column for each trade that an open house needs, in the company's order, and waits last", () => {
    expect(sheet.columns.map((column) => column.stamp.letters)).toEqual([
      "RF",
      "WB",
      "WN",
      "TR",
      "SD",
      "ST",
      "CK",
      "··",
    ]);
  });

  it("says that a trade is done", () => {
    expect(cellOf("tern-14", "Weather barrier")).toMatchObject({ state: "done", when: "", why: "" });
  });

  it("says that a trade is under way, by whom and until when, and how many of its tasks are done", () => {
    expect(cellOf("wharf-27", "Stone")).toMatchObject({
      state: "under-way",
      progress: "0 of 2 tasks done",
      when: "Cedar, until Tue 8 Dec, 10:50 am",
    });
  });

  it("calls work of today and tomorrow scheduled, whatever it waited for", () => {
    expect(cellOf("gull-3", "Windows")).toMatchObject({
      state: "scheduled",
      when: "Birch, Tue 8 Dec, 8:40 am",
    });
  });

  it("says what a trade waits on, and the root where that lies further away", () => {
    expect(cellOf("gull-3", "Trim and blocks")).toMatchObject({
      state: "waiting",
      when: "Cedar, Fri 11 Dec, 7:30 am",
      since: "ready from Tue 8 Dec, 3:00 pm",
      why: "Cedar is at 27 Wharf Road until Thursday",
      root: "Scratch coat at 27 Wharf Road (Cedar)",
    });
  });

  it("says since when a house is ready for a trade, where all that comes before is done", () => {
    const company = decemberCompany();
    const plan = decemberPlan();
    const tasks = plan.tasks.map((task) =>
      task.task === "side"
        ? {
            ...task,
            start: "2026-12-14T07:46:00-05:00",
            because: { ...task.because, kind: "crew-busy" as const },
          }
        : task,
    );
    const later = buildWaitingView(
      buildReading(company, { ...plan, tasks }),
      civilDate("2026-12-07"),
      civilDate("2026-12-08"),
    );
    const siding = later.columns.findIndex((column) => column.name === "Siding");
    expect(later.rows[0]?.cells[siding]?.since).toBe("ready since Fri 4 Dec, 12:00 pm");
  });

  it("says of work that is in no plan why not", () => {
    expect(cellOf("pilot-5", "Siding")).toMatchObject({
      state: "impossible",
      why: "No crew with siding is free before the plan ends.",
    });
  });

  it("leaves a cell empty where a house has no such work", () => {
    expect(cellOf("wharf-27", "Siding")).toBeUndefined();
  });

  it("sets a house's forecast beside its promise", () => {
    expect(sheet.rows.map((row) => [row.promised, row.ready])).toEqual([
      ["promised Tue 8 Dec", "ready Tue 8 Dec"],
      ["promised Fri 11 Dec", "ready Fri 11 Dec"],
      ["no date promised", "ready Thu 10 Dec"],
      ["no date promised", "no end in sight: see what cannot be planned"],
    ]);
  });
});

describe("the chain of reasons", () => {
  it("is followed across houses to a task whose reason names no other", () => {
    const links = followReasons(reading, "gull-3", "blocks");
    expect(links.map((link) => [link.jobName, link.taskTitle, link.isElsewhere])).toEqual([
      ["3 Gull Street", "Mount blocks", false],
      ["27 Wharf Road", "Set stone", true],
      ["27 Wharf Road", "Scratch coat", false],
    ]);
    expect(distantRoot(links)?.taskTitle).toBe("Scratch coat");
  });

  it("ends where two reasons name each other", () => {
    const plan = decemberPlan();
    const [first, second, ...rest] = plan.tasks;
    const turned = (task: typeof first, by: typeof first) => ({
      ...present(task, "a task"),
      because: {
        ...present(task, "a task").because,
        by: { job: present(by, "a task").job, task: present(by, "a task").task },
      },
    });
    const circular = { ...plan, tasks: [turned(first, second), turned(second, first), ...rest] };
    expect(followReasons(buildReading(decemberCompany(), circular), "tern-14", "side")).toHaveLength(2);
  });

  it("is empty for a task that is in no plan", () => {
    expect(followReasons(reading, "pilot-5", "gutters")).toEqual([]);
  });
});

describe("the page of a house", () => {
  const jobOf = (id: string) => buildJobView(reading, present(reading.jobs.get(id), id));

  it("puts what is done first, then the rest by its planned start", () => {
    expect(jobOf("tern-14").tasks.map((task) => [task.title, task.state])).toEqual([
      ["Wrap the left side", "done"],
      ["Siding, left side", "to do"],
      ["Caulk the left side", "to do"],
    ]);
  });

  it("tells who, when, how much and why then", () => {
    expect(jobOf("gull-3").tasks.at(-1)).toMatchObject({
      crew: "Cedar",
      when: "Fri 11 Dec, 7:30 am to 9:30 am",
      hours: "4 labor-hours",
      why: "Cedar is at 27 Wharf Road until Thursday",
    });
  });

  it("ends a wait with the end of its last day", () => {
    expect(jobOf("gull-3").tasks.find((task) => task.id === "inspect")).toMatchObject({
      crew: "no crew",
      when: "Tue 8 Dec, 3:00 pm to end of Wed 9 Dec",
      hours: "1 business day",
    });
  });

  it("says of an impossible task why not", () => {
    expect(jobOf("pilot-5").tasks[0]).toMatchObject({
      state: "cannot be planned",
      isImpossible: true,
      when: "",
    });
  });
});

describe("the list of houses", () => {
  it("puts houses in trouble first, then those promised soonest", () => {
    expect(listJobLines(reading).map((line) => line.name)).toEqual([
      "5 Pilot Way",
      "14 Tern Lane",
      "3 Gull Street",
      "27 Wharf Road",
    ]);
  });

  it("counts days late against the promise", () => {
    const company = decemberCompany();
    const earlier = {
      ...company,
      jobs: company.jobs.map((job) => ({ ...job, promised: job.id === "gull-3" ? "2026-12-09" : null })),
    };
    const late = listJobLines(buildReading(earlier, decemberPlan())).find((line) => line.id === "gull-3");
    expect(late).toMatchObject({ lateDays: 2, isLate: true, ready: "ready Fri 11 Dec, 2 days late" });
  });

  it("names as next what a crew comes for, before any wait", () => {
    expect(listJobLines(reading).find((line) => line.id === "gull-3")?.next).toBe(
      "Birch, Tue 8 Dec, 7:30 am: Reframe",
    );
  });
});
