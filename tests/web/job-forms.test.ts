/** The forms on the page of a house: promised date, deliveries, tasks. */
import { describe, expect, it } from "vitest";
import { EDITED_COMPANY, useEditing, versionIn, type Editing } from "./editing.js";

const JOB = "/jobs/harbor-12";
const PROMISED = `${JOB}/promised`;
const DELIVERY = `${JOB}/deliveries/d1`;
const TRIM = `${JOB}/tasks/t2`;
const UNDER_WAY = { status: "under-way", leftHours: "4", doneBy: "alder", startedAt: "", finishedAt: "" };

const editing = useEditing();
const open = (): Promise<Editing> => editing.open(EDITED_COMPANY);
const jobOf = ({ desk }: Editing) => desk.current().company.jobs[0];
const lastOf = async ({ record }: Editing) => (await record.list({ limit: 1 }))[0];

describe("the promised date", () => {
  it("is moved by form, and the record has who, what and why", async () => {
    const house = await open();
    const version = versionIn(await house.page(JOB), PROMISED);
    const sent = await house.post(PROMISED, { version, promised: "2026-12-08", reason: "windows are late" });
    expect([sent.status, sent.location]).toEqual([303, `${JOB}#promised`]);
    expect(jobOf(house)?.promised).toBe("2026-12-08");
    expect(await lastOf(house)).toMatchObject({
      personName: "Robin",
      kind: "promise-moved",
      sentence: "Promised date of 12 Harbor Road moved from Fri 4 Dec to Tue 8 Dec.",
      why: "windows are late",
    });
    expect(await house.page(JOB)).toContain("promised Tue 8 Dec");
  });

  it("may be cleared", async () => {
    const house = await open();
    expect((await house.post(PROMISED, { version: "1", promised: "" })).status).toBe(303);
    expect(jobOf(house)?.promised).toBe(null);
  });

  it.each([
    ["2026-12-01", "Tuesday 1 December 2026 has gone by."],
    ["2036-12-01", "is more than three years away. Look at the year."],
    ["2026-02-30", "&#34;2026-02-30&#34; is no date"],
    ["\u0000", "is no date"],
    ["2026-12-04", "This is as it stands already"],
  ])("%j comes back with its sentence and with what was typed", async (promised, sentence) => {
    const house = await open();
    const sent = await house.post(PROMISED, { version: "1", promised, reason: "they <asked>" });
    expect(sent.status).toBe(422);
    expect(sent.page).toContain(sentence);
    expect(sent.page).toContain("they &lt;asked&gt;");
    expect(sent.page).toContain('<details class="change" id="promised" open>');
    expect(house.desk.current().version).toBe(1);
  });

  it("that somebody else has moved meanwhile is not moved: she is told who and what, and keeps what she typed", async () => {
    const house = await open();
    const version = versionIn(await house.page(JOB), PROMISED);
    await house.casey({ kind: "promise-moved", job: "harbor-12", promised: "2026-12-11" });
    const sent = await house.post(PROMISED, { version, promised: "2026-12-08", reason: "asked" });
    expect(sent.status).toBe(409);
    expect(sent.page).toContain(
      "Casey has changed this since you opened the page: Promised date of 12 Harbor Road moved from Fri 4 Dec to Fri 11 Dec.",
    );
    expect(sent.page).toContain('value="2026-12-08"');
    expect(sent.page).toContain("promised Fri 11 Dec");
    expect(jobOf(house)?.promised).toBe("2026-12-11");
    // Sent again from the page that tells it, it is meant.
    const again = await house.post(PROMISED, {
      version: versionIn(sent.page, PROMISED),
      promised: "2026-12-08",
    });
    expect(again.status).toBe(303);
  });

  it("is moved where somebody else has meanwhile changed something else of the house", async () => {
    const house = await open();
    const version = versionIn(await house.page(JOB), PROMISED);
    await house.casey({
      kind: "delivery-changed",
      job: "harbor-12",
      delivery: "d1",
      expected: "2026-12-02",
      received: true,
    });
    expect((await house.post(PROMISED, { version, promised: "2026-12-08" })).status).toBe(303);
  });

  it("is not moved by a form without a version", async () => {
    const house = await open();
    const sent = await house.post(PROMISED, { promised: "2026-12-08" });
    expect(sent.status).toBe(409);
    expect(sent.page).toContain("This form does not say what it was made for");
  });

  it("is not moved with a reason that cannot be kept", async () => {
    const house = await open();
    for (const reason of ["\u0000", "x".repeat(2_001)]) {
      const sent = await house.post(PROMISED, { version: "1", promised: "2026-12-08", reason });
      expect(sent.status).toBe(422);
      expect(sent.page).toMatch(/id="fault-promised-reason"><span>The reason must/);
    }
  });
});

describe("a delivery", () => {
  it("is received or expected on another day", async () => {
    const house = await open();
    const version = versionIn(await house.page(JOB), DELIVERY);
    expect((await house.post(DELIVERY, { version, expected: "2026-12-09", received: "" })).status).toBe(303);
    expect(jobOf(house)?.deliveries[0]).toMatchObject({ expected: "2026-12-09", received: false });
    const next = versionIn(await house.page(JOB), DELIVERY);
    expect(
      (await house.post(DELIVERY, { version: next, expected: "2026-12-09", received: "yes" })).status,
    ).toBe(303);
    expect(jobOf(house)?.deliveries[0]?.received).toBe(true);
  });

  it("that is expected in the past comes back beside its date", async () => {
    const house = await open();
    const sent = await house.post(DELIVERY, { version: "1", expected: "2026-12-01", received: "" });
    expect(sent.status).toBe(422);
    expect(sent.page).toMatch(
      /id="fault-delivery-d1-expected"><span>Tuesday 1 December 2026 has gone by\..* Or mark it as received\./,
    );
    expect(sent.page).toContain('value="2026-12-01" autocomplete="off" aria-invalid="true"');
  });

  it("that nobody knows is refused", async () => {
    const house = await open();
    const sent = await house.post(`${JOB}/deliveries/d9`, { version: "1", expected: "2026-12-09" });
    expect(sent.status).toBe(409);
    expect(sent.page).toContain("There is no delivery &#34;d9&#34; at this house any more.");
    expect((await house.post("/jobs/nowhere/deliveries/d1", { version: "1" })).status).toBe(404);
    expect((await house.post(`${JOB}/deliveries/%00`, { version: "1" })).status).toBe(404);
  });
});

describe("a task", () => {
  it("gets other hours left, and is done", async () => {
    const house = await open();
    const version = versionIn(await house.page(JOB), TRIM);
    const sent = await house.post(TRIM, { ...UNDER_WAY, version, leftHours: "6.5" });
    expect([sent.status, sent.location]).toEqual([303, `${JOB}#task-t2`]);
    expect(jobOf(house)?.tasks[1]?.leftHours).toBe(6.5);
    const next = versionIn(await house.page(JOB), TRIM);
    expect(
      (await house.post(TRIM, { ...UNDER_WAY, version: next, status: "done", leftHours: "" })).status,
    ).toBe(303);
    expect(jobOf(house)?.tasks[1]).toMatchObject({
      status: "done",
      finishedAt: "2026-12-03T16:00",
      leftHours: null,
    });
  });

  it.each([
    [{ leftHours: "six" }, "&#34;six&#34; is no number of hours."],
    [{ leftHours: "-1" }, "&#34;-1&#34; is no number of hours."],
    [{ leftHours: "5001" }, "5,001 hours left are more than a task can have, which is 5,000."],
    [{ leftHours: "1e3" }, "is no number of hours"],
    [{ status: "nearly" }, "Say how far the task is"],
    [{ doneBy: "birch" }, "Birch does not do this trade"],
    [{ doneBy: "nobody-9" }, "There is no crew &#34;nobody-9&#34;"],
    [{ doneBy: "" }, "Say which crew has begun it"],
    [{ startedAt: "2026-12-04T08:00" }, "which is still to come"],
    [{ startedAt: "yesterday" }, "&#34;yesterday&#34; is no time"],
    [{ finishedAt: "2026-12-03T08:00" }, "Only a task that is done has a finish."],
  ])("with %j comes back with its sentence and with what was typed", async (wrong, sentence) => {
    const house = await open();
    const fields = { ...UNDER_WAY, reason: "called in", version: "1", ...wrong };
    const sent = await house.post(TRIM, fields);
    expect(sent.status).toBe(422);
    expect(sent.page).toContain(sentence);
    expect(sent.page).toContain('value="called in"');
    expect(house.desk.current().version).toBe(1);
  });

  it("that somebody else has changed meanwhile stays as it is", async () => {
    const house = await open();
    const version = versionIn(await house.page(JOB), TRIM);
    await house.casey({
      kind: "task-progress",
      job: "harbor-12",
      task: "t2",
      input: { status: "under-way", leftHours: 9, doneBy: "alder", startedAt: null, finishedAt: null },
    });
    const sent = await house.post(TRIM, { ...UNDER_WAY, version, leftHours: "2" });
    expect(sent.status).toBe(409);
    expect(sent.page).toContain(
      "Casey has changed this since you opened the page: Trim at 12 Harbor Road: hours left from 4 to 9.",
    );
    expect(sent.page).toContain('id="task-t2-leftHours" name="leftHours" type="text" value="2"');
    expect(jobOf(house)?.tasks[1]?.leftHours).toBe(9);
  });

  it("that waits is asked neither for hours nor for a crew", async () => {
    const house = await open();
    const page = await house.page(JOB);
    expect(page).toContain('id="task-w1-startedAt"');
    expect(page).not.toContain('id="task-w1-leftHours"');
    expect(page).not.toContain('id="task-w1-doneBy"');
  });
});

describe("a form of a house", () => {
  it.each([PROMISED, DELIVERY, TRIM])("to %s from elsewhere changes nothing", async (path) => {
    const house = await open();
    const response = await house.app.post(path, { version: "1" }, { origin: "https://elsewhere.example" });
    expect(response.status).toBe(403);
    expect(house.desk.current().version).toBe(1);
  });

  it("whose house has gone with a new company file tells who loaded it", async () => {
    const house = await open();
    await house.desk.load(
      { ...(EDITED_COMPANY as object), jobs: [] },
      { personId: null, personName: "Casey" },
      "",
    );
    const sent = await house.post(PROMISED, { version: "1", promised: "2026-12-08" });
    expect(sent.status).toBe(404);
  });
});
