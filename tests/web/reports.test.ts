/** Reports over HTTP: the crew's page and its forms, the answers to a script, the office's page, and who may what. */
import { randomUUID } from "node:crypto";
import { describe, expect, it } from "vitest";
import { present } from "../../src/domain/result.js";
import { EDITED_COMPANY, useEditing, type Editing } from "./editing.js";

const editing = useEditing();
const JSON_ONLY = { accept: "application/json" };

/** Of the task that crew Alder has under way. */
const fields = (more: Readonly<Record<string, string>> = {}) => ({
  key: randomUUID(),
  kind: "done",
  date: "2026-12-03",
  job: "harbor-12",
  task: "t2",
  seen: "1",
  ...more,
});

/** As a script does; what stands has it when this is over. */
async function say(
  { app, desk }: Editing,
  form: Readonly<Record<string, string>>,
  crew = "alder",
): Promise<{ readonly status: number; readonly body: unknown }> {
  const headers = { origin: app.url, ...JSON_ONLY };
  const { version } = desk.current();
  const response = await app.post(`/crew/${crew}/reports`, form, headers);
  const body: unknown = await response.json();
  // A script is answered when the report is kept, and the plan follows.
  const isNew = response.ok && JSON.stringify(body).includes('"state":"taken"');
  if (isNew) await expect.poll(() => desk.current().version).toBeGreaterThan(version);
  return { status: response.status, body };
}

describe("the page on which a crew reports", () => {
  it("has a form with a key of its own for each thing to say of each task", async () => {
    const site = await editing.open(EDITED_COMPANY);
    const html = await site.page("/crew/alder/2026-12-04/report");
    expect(html).toContain('id="task-1"');
    const keys = [...html.matchAll(/name="key" value="([^"]+)"/g)].map(([, key]) => key);
    expect(keys.length).toBeGreaterThan(8);
    expect(new Set(keys).size).toBe(keys.length);
    for (const kind of ["start", "done", "hours-left", "stuck", "damage", "stretch", "short-handed"]) {
      expect(html).toContain(`name="kind" value="${kind}"`);
    }
  });

  it("of a day that is over lets done and damage be said, and nothing that would hold or change that day", async () => {
    const site = await editing.open(EDITED_COMPANY);
    const html = await site.page("/crew/alder/2026-12-02/report");
    const kinds = [...html.matchAll(/name="kind" value="([^"]+)"/g)].map(([, kind]) => kind);
    expect(new Set(kinds)).toEqual(new Set(["done", "hours-left", "damage"]));
    expect(html).toContain('href="/crew/alder/2026-12-03/report">Report for Thu 3 Dec</a>');
  });

  it("is made anew for each reader, for no two forms may have one key", async () => {
    const site = await editing.open(EDITED_COMPANY);
    const read = async () =>
      /name="key" value="([^"]+)"/.exec(await site.page("/crew/alder/2026-12-04/report"))?.[1];
    expect(await read()).not.toBe(await read());
  });

  it("is linked to from each work entry of the day sheet, at that task", async () => {
    const site = await editing.open(EDITED_COMPANY);
    const sheet = await site.page("/crew/alder/2026-12-04");
    const report = await site.page("/crew/alder/2026-12-04/report");
    const links = [
      ...sheet.matchAll(
        /href="\/crew\/alder\/2026-12-04\/report#(task-\d+)"[^>]*>Report<span[^>]*>: ([^<]+)/g,
      ),
    ];
    expect(links.length).toBeGreaterThan(0);
    for (const [, id = "", title = ""] of links) {
      const item = report.slice(report.indexOf(`id="${id}"`));
      expect(item.slice(0, item.indexOf("</h3>"))).toContain(title);
    }
  });

  it("speaks Spanish where it is asked to, and goes on in it", async () => {
    const site = await editing.open(EDITED_COMPANY);
    const html = await site.page("/crew/alder/2026-12-03/report?lang=es");
    expect(html).toContain('<html lang="es">');
    expect(html).toContain("Terminado");
    expect(html).toContain('name="lang" value="es"');
    const form = fields({ lang: "es" });
    const sent = await site.post("/crew/alder/reports", form);
    expect(sent.location).toBe(`/crew/alder/2026-12-03/report?lang=es&taken=${form.key}`);
    expect(await site.page(sent.location ?? "")).toContain("La oficina ya lo tiene.");
  });
});

describe("a form without script", () => {
  it("goes back to the page, which shows what was taken and its state", async () => {
    const site = await editing.open(EDITED_COMPANY);
    const form = fields();
    const sent = await site.post("/crew/alder/reports", form);
    expect(sent).toMatchObject({ status: 303, location: `/crew/alder/2026-12-03/report?taken=${form.key}` });
    const html = await site.page(sent.location ?? "");
    expect(html).toContain('role="status"');
    expect(html).toMatch(/<strong>Done<\/strong> · Trim, 12 Harbor Road/);
    expect(html).toContain("4:00 pm · The office has it.");
  });

  it("that means nothing comes back as 422 with every sentence, what was typed, and keys that were not used", async () => {
    const site = await editing.open(EDITED_COMPANY);
    const form = fields({
      kind: "damage",
      what: "sheathing",
      area: "left gable",
      amount: "many",
      unit: "feet",
      hours: "-1",
      note: "by the <chimney>",
    });
    const sent = await site.post("/crew/alder/reports", form);
    expect(sent.status).toBe(422);
    expect(sent.page).toContain("Write how much as a number above 0, or leave it empty.");
    expect(sent.page).toContain("Write the labor-hours as a number above 0");
    expect(sent.page).toContain('value="left gable"');
    expect(sent.page).toContain('value="many"');
    expect(sent.page).toContain("by the &lt;chimney&gt;");
    expect(sent.page).not.toContain(form.key);
    expect(await site.record.list({ kind: "site-report", limit: 5 })).toEqual([]);
  });

  it("that is sent again after it came back is taken", async () => {
    const site = await editing.open(EDITED_COMPANY);
    const sent = await site.post("/crew/alder/reports", fields({ kind: "hours-left", hours: "much" }));
    const key = present(/value="hours-left">[\s\S]*?name="hours"/.exec(sent.page), "the form again");
    expect(key[0]).toContain('name="seen"');
    expect(
      (await site.post("/crew/alder/reports", fields({ kind: "hours-left", hours: "2,5" }))).status,
    ).toBe(303);
    expect(await site.page("/crew/alder/2026-12-03/report")).toContain("2.5 labor-hours left");
  });
});

describe("a script that sends a report", () => {
  it("is told that it was taken, and the second time that it was taken before", async () => {
    const open = await editing.open(EDITED_COMPANY);
    const form = fields({ saidAt: "2026-12-03T15:10:00-05:00" });
    const { key } = form;
    const first = { key, state: "taken", sentence: "The office has it." };
    expect(await say(open, form)).toEqual({ status: 200, body: first });
    const again = { key, state: "taken-before", sentence: "The office had this already." };
    expect(await say(open, form)).toEqual({ status: 200, body: again });
    expect(await open.record.list({ kind: "site-report", limit: 5 })).toHaveLength(1);
    expect(await open.page("/reports")).toContain("Said Thu 3 Dec, 3:10 pm by Robin; came 4:00 pm");
  });

  it("from a phone that is 12 days slow says it when it was said, and is the same however late it comes again", async () => {
    const open = await editing.open(EDITED_COMPANY);
    const stuck = fields({ kind: "stuck", reason: "material", saidAt: "2026-11-21T15:10:00-05:00" });
    await say(open, { ...stuck, sentAt: "2026-11-21T16:00:00-05:00" });
    expect(await open.page("/reports")).toContain("Said Thu 3 Dec, 3:10 pm by Robin; came 4:00 pm");
    const holds = open.desk.current().company.holds.map(({ from }) => from);
    expect(holds).toEqual(["2026-12-09", expect.stringMatching(/^2026-12-03T15:10/)]);
    const again = await say(open, { ...stuck, sentAt: "2026-11-21T17:30:00-05:00" });
    expect(again).toMatchObject({ status: 200, body: { state: "taken-before" } });
  });

  it("is told what is nonsense, each fault in a sentence", async () => {
    const open = await editing.open(EDITED_COMPANY);
    const { status, body } = await say(open, { key: "7", kind: "stuck", date: "soon", reason: "boredom" });
    expect(status).toBe(422);
    expect(body).toMatchObject({ key: "7", state: "faulty" });
    const { sentence } = body as { readonly sentence: string };
    expect(sentence).toContain("without its number");
    expect(sentence).toContain("names no day");
    expect(sentence).toContain("which task");
    expect(sentence).toContain("what holds you up");
  });

  it.each([
    ["a day long gone", { date: "2019-01-01" }],
    ["a house that there never was", { job: "nowhere-1" }],
    ["a clock that is years off", { saidAt: "1999-12-31T23:59:00Z" }],
    ["a page of an unknown make", { seen: "newest" }],
  ])("is believed about %s", async (_what, more) => {
    expect(await say(await editing.open(EDITED_COMPANY), fields(more))).toMatchObject({
      status: 200,
      body: { state: "taken" },
    });
  });

  it("gets other refusals as a status with a sentence", async () => {
    const open = await editing.open(EDITED_COMPANY);
    expect(await say(open, fields(), "nobody")).toEqual({
      status: 404,
      body: { sentence: 'There is no crew "nobody".' },
    });
  });
});

describe("the office", () => {
  it("sees what is not settled first, with the count in the masthead, until somebody settles it", async () => {
    const open = await editing.open(EDITED_COMPANY);
    const count = (html: string): string | undefined => /class="count">(\d+)</.exec(html)?.[1];
    expect(count(await open.page("/"))).toBeUndefined();
    await say(open, fields({ kind: "damage", what: "sheathing", area: "left", unit: "sheets", hours: "30" }));
    await say(open, fields({ kind: "stretch" }));
    expect(count(await open.page("/"))).toBe("2");
    const settled = await open.post("/reports/2/settle", {});
    expect(settled).toMatchObject({ status: 303, location: "/reports#report-2" });
    expect(count(await open.page("/"))).toBe("1");
    const html = await open.page("/reports");
    expect(html.indexOf('id="report-1"')).toBeLessThan(html.indexOf('id="report-2"'));
    expect(html).toContain("Settled Thu 3 Dec, 4:00 pm by Robin.");
    await open.post("/reports/2/unsettle", {});
    expect(count(await open.page("/waiting"))).toBe("2");
  });

  it("sees what a report moves, what it met, and where to go on", async () => {
    const open = await editing.open(EDITED_COMPANY);
    await say(open, fields({ kind: "damage", what: "sheathing", area: "left", unit: "sheets", hours: "60" }));
    await say(open, fields({ kind: "damage", what: "framing", unit: "feet", note: "sill is gone" }));
    await say(
      open,
      fields({ kind: "stuck", reason: "customer", job: "harbor-12", task: "t1", date: "2026-12-04" }),
    );
    await say(open, fields(), "birch");
    await say(open, fields({ kind: "stretch", date: "2026-12-04" }));
    await say(open, fields({ kind: "short-handed", missing: "1", date: "2026-12-04" }));
    // A page waits for ripples only so long.
    const pattern = /12 Harbor Road: would finish [^<]+ later \(without it /;
    await expect.poll(() => open.page("/reports"), { timeout: 20_000 }).toMatch(pattern);
    const html = await open.page("/reports");
    expect(html).toContain("if every crew keeps its order");
    expect(html).toContain("Said Thu 3 Dec, 4:00 pm by Robin for Fri 4 Dec.");
    expect(html).toContain("The forecast holds this work until the end of Fri 4 Dec.");
    expect(await open.page("/jobs/harbor-12")).toMatch(pattern);
    expect(html).toContain("/slip?slip=task-added&amp;place=after%3Aharbor-12%2Ft2");
    expect(html).toContain("the crew could not say how many hours it takes");
    expect(html).toContain("Trim at 12 Harbor Road was under way with Alder.");
    expect(html).toContain("/ways?chosen=yes&amp;stretch=2026-12-04");
    expect(html).toContain("/slip?slip=day-off-added&amp;crew=alder&amp;from=2026-12-04");
    for (const href of [
      "/ways?chosen=yes&stretch=2026-12-04",
      "/slip?slip=hours-added&task=harbor-12/t2&hours=6",
    ]) {
      expect((await open.app.get(href)).status).toBe(200);
    }
  });

  it("sees the reports of a house on its page, and the whole of it on record", async () => {
    const open = await editing.open(EDITED_COMPANY);
    await say(open, fields({ kind: "hours-left", hours: "6" }));
    const job = await open.page("/jobs/harbor-12");
    expect(job).toContain("Reports from site");
    expect(job).toContain("6 labor-hours left");
    expect(await open.page("/jobs/cove-3")).not.toContain("Reports from site");
    const record = await open.page("/record");
    expect(record).toContain("Alder, Trim at 12 Harbor Road: 6 labor-hours left.");
    expect(record).toContain("report from site");
  });

  it("that settles what there is not is told so", async () => {
    const open = await editing.open(EDITED_COMPANY);
    expect((await open.app.post("/reports/77/settle", {})).status).toBe(404);
    expect((await open.app.post("/reports/one/settle", {})).status).toBe(404);
  });

  it("that takes a report back reads so on the page, and the crew on its own", async () => {
    const open = await editing.open(EDITED_COMPANY);
    await say(open, fields());
    const { version } = open.desk.current();
    expect((await open.desk.undo(version, { personId: null, personName: "Robin" }, "")).ok).toBe(true);
    expect(await open.page("/reports")).toContain("Taken back: the forecast does not have it any more.");
    expect(await open.page("/crew/alder/2026-12-03/report")).toContain("Taken back by the office.");
  });
});
