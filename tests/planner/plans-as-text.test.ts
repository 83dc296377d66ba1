/**
 * Whole plans of small companies, to be read. When one changes, its diff says what a crew would do otherwise.
 */
import { describe, expect, it } from "vitest";
import { aCompany, aCrew, aJob, aTask, aWait } from "../support/company-builder.js";
import { lines, planText } from "./plan-text.js";
import { planned } from "./planned.js";

const area = "front";

describe("two days in December on the coast of Maine", () => {
  it("end by the sun, with every opened unit closed", () => {
    const shift: [string, string] = ["06:30", "17:00"];
    const crews = [
      aCrew({ startsAt: "yard", week: { tue: shift, wed: shift, thu: shift } }),
      aCrew({
        id: "birch",
        name: "Birch",
        size: 2,
        trades: { siding: 1, shop: 1 },
        week: { tue: shift, wed: shift, thu: shift },
      }),
    ];
    const spruce = aJob({
      tasks: [
        aTask({
          id: "strip",
          trade: "tear-off",
          title: "Strip the front",
          area,
          laborHours: 12,
          units: 2,
          opens: true,
          crew: "alder",
        }),
        aTask({
          id: "wrap",
          trade: "wrb",
          title: "Wrap the front",
          area,
          laborHours: 6,
          units: 2,
          after: [{ task: "strip" }],
        }),
        aTask({
          id: "set",
          trade: "windows",
          title: "Set the windows",
          area,
          laborHours: 9,
          units: 2,
          closes: true,
          after: [{ task: "wrap" }],
        }),
        aTask({
          id: "side",
          title: "Side the front",
          laborHours: 8,
          crew: "birch",
          after: [{ task: "set" }],
        }),
      ],
    });
    const elm = aJob({
      id: "elm-3",
      name: "3 Elm Street",
      promised: "2026-12-08",
      tasks: [aTask({ id: "gable", title: "Side the gable", laborHours: 16, crew: "birch" })],
    });
    expect(planText(planned(aCompany({ crews, jobs: [spruce, elm] }), "2026-12-08T05:00"))).toBe(
      lines(`
        alder Tue 8 Dec 06:36-06:51 load at spruce-14
        alder Tue 8 Dec 06:51-07:02 travel at spruce-14
        alder Tue 8 Dec 07:02-07:22 setup at spruce-14
        alder Tue 8 Dec 07:22-09:22 work strip (1) at spruce-14
        alder Tue 8 Dec 09:22-10:22 work wrap (1) at spruce-14
        alder Tue 8 Dec 10:22-11:30 work set (1) at spruce-14
        alder Tue 8 Dec 11:30-12:00 break at spruce-14
        alder Tue 8 Dec 12:00-12:22 work set (1) at spruce-14
        alder Tue 8 Dec 12:22-12:52 cleanup at spruce-14
        alder Tue 8 Dec 12:52-13:03 travel
        alder Wed 9 Dec 06:37-06:52 load at spruce-14
        alder Wed 9 Dec 06:52-07:03 travel at spruce-14
        alder Wed 9 Dec 07:03-07:23 setup at spruce-14
        alder Wed 9 Dec 07:23-09:23 work strip (2) at spruce-14
        alder Wed 9 Dec 09:23-10:23 work wrap (2) at spruce-14
        alder Wed 9 Dec 10:23-11:30 work set (2) at spruce-14
        alder Wed 9 Dec 11:30-12:00 break at spruce-14
        alder Wed 9 Dec 12:00-12:23 work set (2) at spruce-14
        alder Wed 9 Dec 12:23-12:53 cleanup at spruce-14
        alder Wed 9 Dec 12:53-13:04 travel
        birch Tue 8 Dec 07:02-07:22 setup at elm-3
        birch Tue 8 Dec 07:22-11:30 work gable (1) at elm-3
        birch Tue 8 Dec 11:30-12:00 break at elm-3
        birch Tue 8 Dec 12:00-15:19 work gable (1) at elm-3
        birch Tue 8 Dec 15:19-15:49 cleanup at elm-3
        birch Wed 9 Dec 07:03-07:23 setup at elm-3
        birch Wed 9 Dec 07:23-07:56 work gable (1) at elm-3
        birch Wed 9 Dec 07:56-08:26 cleanup at elm-3
        birch Wed 9 Dec 08:26-08:31 travel at spruce-14
        birch Wed 9 Dec 11:30-12:00 break at spruce-14
        birch Wed 9 Dec 12:03-12:23 setup at spruce-14
        birch Wed 9 Dec 12:23-15:19 work side (1) at spruce-14
        birch Wed 9 Dec 15:19-15:49 cleanup at spruce-14
        birch Thu 10 Dec 07:04-07:24 setup at spruce-14
        birch Thu 10 Dec 07:24-08:28 work side (1) at spruce-14
        birch Thu 10 Dec 08:28-08:58 cleanup at spruce-14
        strip Tue 8 Dec 07:22-Wed 9 Dec 09:23: No light to work by before Tue 8 Dec, 7:02 am.
        wrap Tue 8 Dec 09:22-Wed 9 Dec 10:23: Comes after "Strip the front", done Tue 8 Dec, 9:22 am.
        set Tue 8 Dec 10:22-Wed 9 Dec 12:23: Comes after "Wrap the front", done Tue 8 Dec, 10:22 am.
        side Wed 9 Dec 12:23-Thu 10 Dec 08:28: Comes after "Set the windows", done Wed 9 Dec, 12:23 pm.
        gable Tue 8 Dec 07:22-Wed 9 Dec 07:56: No light to work by before Tue 8 Dec, 7:02 am.
        lateDays 1
        idleCrewHours 22.68
        total 1207.33
    `),
    );
  });
});

describe("the weekend on which the clocks change in March", () => {
  it("has a cure of 24 hours end an hour later on the clock", () => {
    const shift: [string, string] = ["07:00", "15:30"];
    const crews = [aCrew({ week: { sat: shift, sun: shift, mon: shift } })];
    const tasks = [
      aTask({ id: "base", trade: "stone", title: "Scratch coat", laborHours: 9 }),
      aTask({
        id: "stone",
        trade: "stone",
        title: "Lay stone",
        laborHours: 12,
        after: [{ task: "base", lagHours: 24 }],
      }),
      aWait({ id: "look", title: "Inspection", waitBusinessDays: 1, after: [{ task: "stone" }] }),
    ];
    expect(planText(planned(aCompany({ crews, jobs: [aJob({ tasks })] }), "2027-03-13T00:00"))).toBe(
      lines(`
        alder Sat 13 Mar 07:00-07:20 setup at spruce-14
        alder Sat 13 Mar 07:20-10:20 work base (1) at spruce-14
        alder Sat 13 Mar 10:20-10:50 cleanup at spruce-14
        alder Sun 14 Mar 11:00-11:20 setup at spruce-14
        alder Sun 14 Mar 11:20-12:00 work stone (1) at spruce-14
        alder Sun 14 Mar 12:00-12:30 break at spruce-14
        alder Sun 14 Mar 12:30-15:00 work stone (1) at spruce-14
        alder Sun 14 Mar 15:00-15:30 cleanup at spruce-14
        alder Mon 15 Mar 07:00-07:20 setup at spruce-14
        alder Mon 15 Mar 07:20-08:10 work stone (1) at spruce-14
        alder Mon 15 Mar 08:10-08:40 cleanup at spruce-14
        base Sat 13 Mar 07:20-10:20: Alder does not work before Sat 13 Mar, 7:00 am.
        stone Sun 14 Mar 11:20-Mon 15 Mar 08:10: "Scratch coat" must cure or dry until Sun 14 Mar, 11:20 am.
        look Mon 15 Mar 08:10-Wed 17 Mar 00:00: Comes after "Lay stone", done Mon 15 Mar, 8:10 am.
        idleCrewHours 14.5
        total 580
    `),
    );
  });
});

describe("a house at 70 degrees north", () => {
  const day: [string, string] = ["08:00", "16:00"];
  const week = { mon: day, tue: day };
  const crews = [
    aCrew({ week, trades: { siding: 1 } }),
    aCrew({ id: "birch", name: "Birch", week, trades: { shop: 1 } }),
  ];
  const company = aCompany({
    company: { name: "Tern Rock Exteriors", timeZone: "Europe/Oslo" },
    crews,
    jobs: [
      aJob({
        id: "north",
        name: "The north house",
        site: { lat: 70, lon: 20 },
        tasks: [
          aTask({ id: "side", title: "Side the front", laborHours: 6 }),
          aTask({ id: "prime", trade: "shop", title: "Prime boards", laborHours: 12 }),
        ],
      }),
    ],
  });

  it("has indoor work alone in December, and waits for the sun with the rest", () => {
    expect(planText(planned(company, "2026-12-07T00:00"))).toBe(
      lines(`
        alder Mon 18 Jan 11:10-11:30 setup at north
        alder Mon 18 Jan 11:30-11:46 work side (1) at north
        alder Mon 18 Jan 11:46-12:16 cleanup at north
        alder Tue 19 Jan 10:58-11:18 setup at north
        alder Tue 19 Jan 11:18-11:59 work side (1) at north
        alder Tue 19 Jan 11:59-12:29 cleanup at north
        alder Mon 25 Jan 10:09-10:29 setup at north
        alder Mon 25 Jan 10:29-11:32 work side (1) at north
        alder Mon 25 Jan 11:32-12:02 cleanup at north
        birch Mon 7 Dec 08:00-12:00 work prime (1) at north
        side Mon 18 Jan 11:30-Mon 25 Jan 11:32: No light to work by before Mon 18 Jan, 11:10 am.
        prime Mon 7 Dec 08:00-12:00: Birch does not work before Mon 7 Dec, 8:00 am.
        idleCrewHours 21.5
        total 860
    `),
    );
  });

  it("has a day without end in June", () => {
    expect(planText(planned(company, "2027-06-14T00:00"))).toBe(
      lines(`
        alder Mon 14 Jun 08:00-08:20 setup at north
        alder Mon 14 Jun 08:20-10:20 work side (1) at north
        alder Mon 14 Jun 10:20-10:50 cleanup at north
        birch Mon 14 Jun 08:00-12:00 work prime (1) at north
        side Mon 14 Jun 08:20-10:20: Alder does not work before Mon 14 Jun, 8:00 am.
        prime Mon 14 Jun 08:00-12:00: Birch does not work before Mon 14 Jun, 8:00 am.
        idleCrewHours 8.17
        total 326.67
    `),
    );
  });
});
