/** Company files whose parts do not fit each other: small edits to a valid file, and the exact sentences they earn. */
import { describe, expect, it } from "vitest";
import { aCompany, aCrew, aJob, aTask, aTrade } from "../support/company-builder.js";
import { edited, faultsOf, OUT, TASK, type BrokenFile } from "../support/valid-file.js";

const broken: readonly BrokenFile[] = [
  // Ids
  [
    "an id of a trade is given once",
    [["trades.3", aTrade({ id: "wrb", stamp: "WW" })]],
    ['trades[3].id: The id "wrb" is taken by trades[1]. Choose another.'],
  ],
  [
    "a stamp is given once",
    [["trades.2.stamp", "TO"]],
    ['trades[2].stamp: The stamp "TO" is taken by trades[0]. Choose another.'],
  ],
  [
    "an id of a crew is given once",
    [["crews.2", aCrew({ trades: {} })]],
    ['crews[2].id: The id "alder" is taken by crews[0]. Choose another.'],
  ],
  [
    "an id of a task is given once in a job",
    [[`${TASK}.id`, "t2"]],
    ['jobs[0].tasks[3].id: The id "t2" is taken by jobs[0].tasks[1]. Choose another.'],
  ],
  [
    "an id of a job, of a hold and of a delivery is given once",
    [
      ["jobs.2", aJob()],
      ["holds.1", { id: "h1", from: "2027-03-17", to: "2027-03-18", trades: "all", jobs: "all" }],
      ["jobs.0.deliveries.1", { id: "d1", what: "Siding", expected: "2027-03-18" }],
    ],
    [
      'jobs[0].deliveries[1].id: The id "d1" is taken by jobs[0].deliveries[0]. Choose another.',
      'jobs[2].id: The id "spruce-14" is taken by jobs[0]. Choose another.',
      'holds[1].id: The id "h1" is taken by holds[0]. Choose another.',
    ],
  ],
  // References
  [
    "a crew's trade is a trade",
    [["crews.1.trades", { sidng: 1 }]],
    ['crews[1].trades.sidng: There is no trade "sidng". Did you mean "siding"?'],
  ],
  [
    "a task's trade is a trade",
    [[`${TASK}.trade`, "masonry"]],
    ['jobs[0].tasks[3].trade: There is no trade "masonry". Add it, or write "tear-off", "wrb" or "siding".'],
  ],
  [
    "a named crew is a crew",
    [[`${TASK}.crew`, "cedar"]],
    ['jobs[0].tasks[3].crew: There is no crew "cedar". Add it, or write "alder" or "birch".'],
  ],
  [
    "the crew that did the work is a crew",
    [["jobs.0.tasks.0.doneBy", "aldr"]],
    ['jobs[0].tasks[0].doneBy: There is no crew "aldr". Did you mean "alder"?'],
  ],
  [
    "a needed delivery is one of the job",
    [["jobs.0.tasks.1.needs", ["d7"]]],
    ['jobs[0].tasks[1].needs[0]: There is no delivery "d7" in this job. Add it, or write "d1".'],
  ],
  [
    "a task's equipment is in the list",
    [[`${TASK}.equipment`, { scaffold: 1 }]],
    ['jobs[0].tasks[3].equipment.scaffold: There is no equipment "scaffold". Add it, or write "lift".'],
  ],
  [
    "a hold names known trades and houses",
    [
      ["holds.0.trades", ["stone"]],
      ["holds.0.jobs", ["cove-4"]],
    ],
    [
      'holds[0].trades[0]: There is no trade "stone". Add it, or write "tear-off", "wrb" or "siding".',
      'holds[0].jobs[0]: There is no job "cove-4". Did you mean "cove-3"?',
    ],
  ],
  [
    "a published block names a known crew",
    [["published.0.crew", "cedar"]],
    ['published[0].crew: There is no crew "cedar". Add it, or write "alder" or "birch".'],
  ],
  // Order
  [
    "a task after an unknown one is refused",
    [[`${TASK}.after.0.task`, "t9"]],
    [
      'jobs[0].tasks[3].after[0].task: There is no task "t9" in this job. Add it, or write "t1", "t2", "t3" or "t4".',
    ],
  ],
  [
    "a task does not come after itself",
    [[`${TASK}.after.0.task`, "t4"]],
    ['jobs[0].tasks[3].after[0].task: The task "t4" cannot come after itself. Take this entry out.'],
  ],
  [
    "a circle of tasks is named in the order of work",
    [["jobs.0.tasks.0.after", [{ task: "t3" }]]],
    [
      'jobs[0].tasks: These tasks go in a circle, each before the next: t1 → t2 → t3 → t1. Take one of their "after" entries out.',
    ],
  ],
  // Hours and dates
  [
    "a shift ends after it starts",
    [["crews.1.week.tue", ["15:30", "07:00"]]],
    [
      "crews[1].week.tue: The shift from 15:30 to 07:00 does not end after it starts. Write the earlier time first.",
    ],
  ],
  [
    "a shift of no length is refused",
    [["crews.1.week.tue", ["07:00", "07:00"]]],
    [
      "crews[1].week.tue: The shift from 07:00 to 07:00 does not end after it starts. Write the earlier time first.",
    ],
  ],
  [
    "access hours end after they start",
    [["jobs.0.access", ["18:00", "07:30"]]],
    [
      "jobs[0].access: The access time from 18:00 to 07:30 does not end after it starts. Write the earlier time first.",
    ],
  ],
  [
    "an extra shift ends after it starts",
    [["crews.1.extra.0.hours", ["13:00", "07:00"]]],
    [
      "crews[1].extra[0].hours: The extra shift from 13:00 to 07:00 does not end after it starts. Write the earlier time first.",
    ],
  ],
  [
    "an extra shift is given once for a date",
    [["crews.1.extra.1", { date: "2027-03-27", hours: ["14:00", "16:00"] }]],
    [
      "crews[1].extra[1].date: There are two extra shifts on 2027-03-27. Write one, from the first hour to the last.",
    ],
  ],
  [
    "days off end on or after their first",
    [["crews.1.off.0.to", "2027-03-18"]],
    [
      "crews[1].off[0].to: The days off end on 2027-03-18, before they begin on 2027-03-19. Exchange the two dates.",
    ],
  ],
  [
    "a hold ends after it starts",
    [["holds.0.to", "2027-03-17T00:00"]],
    [
      "holds[0].to: The hold ends at 2027-03-17T00:00, which is not after its start at 2027-03-17T00:00. Write a later end.",
    ],
  ],
  [
    "a published block does not end before it starts",
    [["published.0.end", "2027-03-16T07:00"]],
    [
      "published[0].end: The block ends at 2027-03-16T07:00, before its start at 2027-03-16T07:20. Write a later end.",
    ],
  ],
  [
    "work is not finished before it is started",
    [
      ["jobs.0.tasks.0.startedAt", "2027-03-02T10:00"],
      ["jobs.0.tasks.0.finishedAt", "2027-03-02T14:59Z"],
    ],
    [
      "jobs[0].tasks[0].finishedAt: The task is finished at 2027-03-02T14:59Z, before its start at 2027-03-02T10:00. Correct one of the two.",
    ],
  ],
  [
    "a lowest temperature is not above the highest",
    [["trades.1.limits.maxF", 10]],
    [
      "trades[1].limits.minF: The lowest temperature, 20, is above the highest, 10. Exchange them, or write null where there is no limit.",
    ],
  ],
  // What a task has
  [
    "a task with a trade has labor-hours",
    [[`${TASK}.laborHours`, OUT]],
    [
      "jobs[0].tasks[3].laborHours: This is missing: a task with a trade must say how many labor-hours it takes (0 or more).",
    ],
  ],
  [
    "a task with a trade has no business days",
    [[`${TASK}.waitBusinessDays`, 2]],
    [
      "jobs[0].tasks[3].waitBusinessDays: Only a wait (trade null) has business days. Take them out, or write null as the trade.",
    ],
  ],
  [
    "a wait has its business days",
    [["jobs.0.tasks.2.waitBusinessDays", OUT]],
    [
      "jobs[0].tasks[2].waitBusinessDays: This is missing: a wait (trade null) must say how many business days it takes (0 or more).",
    ],
  ],
  [
    "a wait has nothing that only a crew can do",
    [
      ["jobs.0.tasks.2.laborHours", 3],
      ["jobs.0.tasks.2.units", 2],
      ["jobs.0.tasks.2.opens", true],
      ["jobs.0.tasks.2.closes", true],
      ["jobs.0.tasks.2.equipment", { lift: 1 }],
    ],
    ["laborHours", "units", "opens", "closes", "equipment"].map(
      (field) =>
        `jobs[0].tasks[2].${field}: A wait (trade null) has no crew at work, so it cannot have "${field}". Take it out, or name a trade.`,
    ),
  ],
  [
    "work under way says with which crew",
    [["jobs.1.tasks.0.doneBy", null]],
    [
      "jobs[1].tasks[0].doneBy: The task is under way, but neither doneBy nor crew says with which crew. Name the crew in doneBy.",
    ],
  ],
  [
    "work that is not done has no finish",
    [["jobs.1.tasks.0.finishedAt", "2027-03-15T12:00"]],
    [
      'jobs[1].tasks[0].finishedAt: The task has a finish but its status is "under-way". Write "done" as its status, or null here.',
    ],
  ],
  [
    "work to do has no start",
    [[`${TASK}.startedAt`, "2027-03-15T12:00"]],
    [
      'jobs[0].tasks[3].startedAt: The task has a start but its status is "to-do". Write "under-way" as its status, or null here.',
    ],
  ],
  // What the company has
  [
    "a trade of open work has a crew",
    [["crews.0.trades", { "tear-off": 1, siding: 1 }]],
    [
      'jobs[0].tasks[1].trade: No crew has the trade "wrb", and this open task needs it. Give the trade to a crew.',
    ],
  ],
  [
    "a trade that several tasks miss is reported once",
    [
      ["crews.0.trades", { "tear-off": 1, wrb: 1 }],
      ["crews.1.trades", {}],
    ],
    [
      'jobs[0].tasks[3].trade: No crew has the trade "siding", and 2 open tasks need it. Give the trade to a crew.',
    ],
  ],
  [
    "no task needs more equipment than there is",
    [[`${TASK}.equipment.lift`, 3]],
    [
      'jobs[0].tasks[3].equipment.lift: The task needs 3 of "lift", but the company has 1. Write at most 1, or raise its count.',
    ],
  ],
  [
    "no task needs a crew stronger than all",
    [[`${TASK}.minCrew`, 5]],
    [
      'jobs[0].tasks[3].minCrew: The task needs a crew of 5, but no crew with the trade "siding" has more than 3. Write at most 3, or make a crew larger.',
    ],
  ],
  [
    "a crew that starts at the yard has a yard",
    [["company.yard", null]],
    [
      'crews[1].startsAt: This crew starts at the yard, but company.yard is not given. Add the yard with its lat and lon, or write "site".',
    ],
  ],
];

describe("a company file whose parts do not fit", () => {
  it.each(broken)("%s", (_rule, edits, sentences) => {
    expect(faultsOf(edited(edits))).toEqual(sentences);
  });

  it("names two circles that share no task, each once", () => {
    const links = { a: "b", b: "a", c: "e", d: "c", e: "d" };
    const linked = Object.entries(links).map(([id, task]) => aTask({ id, after: [{ task }] }));
    expect(faultsOf(aCompany({ jobs: [aJob({ tasks: linked })] }))).toEqual(
      ["a → b → a", "c → d → e → c"].map(
        (circle) =>
          `jobs[0].tasks: These tasks go in a circle, each before the next: ${circle}. Take one of their "after" entries out.`,
      ),
    );
  });

  it("survives a circle of twenty thousand tasks", () => {
    const count = 20_000;
    const tasks = Array.from({ length: count }, (_, index) =>
      aTask({ id: `t${index}`, after: [{ task: `t${(index + 1) % count}` }] }),
    );
    expect(faultsOf(aCompany({ jobs: [aJob({ tasks })] }))).toHaveLength(1);
  });
});
