/** Photos over HTTP: by a crew's phone and by the office, taken, refused with a sentence, cut off, and shown to whom. */
import { randomUUID } from "node:crypto";
import { request } from "node:http";
import { gps, parse } from "exifr";
import { afterEach, describe, expect, it } from "vitest";
import { present } from "../../src/domain/result.js";
import { makeFixedClock } from "../../src/services/clock.js";
import { openPeople } from "../../src/services/people.js";
import { openPhotos, type Photos } from "../../src/services/photos.js";
import { openRecord } from "../../src/services/record.js";
import { useDesks, ROBIN } from "../support/desk.js";
import { CHEAP, COMMAND_LINE, good, makeMember } from "../support/people.js";
import { aNoisyPhoto, aPhotoForm, aPhotoWithPlace, type SentForm } from "../support/photos.js";
import { AFTERNOON, EDITED_COMPANY } from "./editing.js";
import { startAppWith, type RunningApp } from "./running-app.js";
import { Visitor } from "./visitor.js";

const MEGABYTE = 1024 * 1024;
const NOW = new Date(AFTERNOON * 60_000);
const desks = useDesks({ clock: makeFixedClock(AFTERNOON), now: () => NOW });
const apps: RunningApp[] = [];
afterEach(async () => {
  await Promise.all(apps.splice(0).map((app) => app.close()));
});

interface House {
  readonly app: RunningApp;
  readonly photos: Photos;
  /** Headers of the phone of the crew Alder, of one of the crew Birch, and of a dispatcher. */
  readonly alder: Readonly<Record<string, string>>;
  readonly birch: Readonly<Record<string, string>>;
  readonly office: Readonly<Record<string, string>>;
  readonly owner: Readonly<Record<string, string>>;
  readonly viewer: Readonly<Record<string, string>>;
  readonly send: (form: SentForm, headers?: Readonly<Record<string, string>>) => Promise<Response>;
  /** How many changes are on record. */
  readonly countChanges: () => Promise<number>;
  readonly undoLast: () => Promise<void>;
}

async function openHouse(): Promise<House> {
  const desk = await desks.open(EDITED_COMPANY);
  const database = await desks.database();
  const people = openPeople(database, { passwordCost: CHEAP });
  const photos = openPhotos(database, makeFixedClock(AFTERNOON));
  const record = openRecord(database);
  const app = await startAppWith({ desk, people, photos, record }, { clock: makeFixedClock(AFTERNOON) });
  apps.push(app);
  const phoneOf = async (id: string): Promise<Record<string, string>> => {
    const phone = new Visitor(app);
    await phone.get(`/link/${good(await people.makePrivateLink("crew", { id, name: id }, COMMAND_LINE))}`);
    return { cookie: phone.cookies.map(({ name, value }) => `${name}=${value}`).join("; ") };
  };
  const memberOf = async (role: "owner" | "dispatcher" | "viewer"): Promise<Record<string, string>> => ({
    cookie: `daylap-session=${(await makeMember(people, role)).token}`,
  });
  const [alder, birch] = [await phoneOf("alder"), await phoneOf("birch")];
  const house = {
    office: await memberOf("dispatcher"),
    owner: await memberOf("owner"),
    viewer: await memberOf("viewer"),
  };
  return {
    app,
    photos,
    alder,
    birch,
    ...house,
    send: (form, headers = { ...alder, accept: "application/json" }) =>
      fetch(`${app.url}/crew/alder/photos`, {
        method: "POST",
        body: aPhotoForm(form),
        headers: { origin: app.url, ...headers },
        redirect: "manual",
      }),
    countChanges: async () => (await record.list({ limit: 99 })).length,
    undoLast: async () => {
      const undone = await desk.undo((await record.list({ limit: 1 }))[0]?.version ?? 0, ROBIN, "");
      if (!undone.ok) throw new Error(JSON.stringify(undone.error));
    },
  };
}

const aPhoto = () => aNoisyPhoto({ width: 64, height: 48 });

describe("a photo that a phone sends", () => {
  it("is answered to a script with its key, and when it comes again as taken before", async () => {
    const { send, photos } = await openHouse();
    const [file, key] = [await aPhoto(), randomUUID()];
    const first = await send({ file, fields: { key, task: "t1" } });
    expect([first.status, await first.json()]).toEqual([
      200,
      { key, state: "taken", sentence: "The photo is with the office." },
    ]);
    const again = await send({ file, fields: { key, task: "t1" } });
    expect([again.status, await again.json()]).toMatchObject([200, { key, state: "taken-before" }]);
    expect(await photos.ofJob("harbor-12")).toMatchObject([
      { taskId: "t1", crewId: "alder", saidBy: "Noor" },
    ]);
  });

  it("without script leads on to the crew's photos, which say that the office has it", async () => {
    const { app, alder, send } = await openHouse();
    const answer = await send(
      { file: await aPhoto(), fields: { job: "harbor-12/t1", date: "2026-12-03" } },
      alder,
    );
    const next = answer.headers.get("location") ?? "";
    expect([answer.status, next]).toEqual([
      303,
      expect.stringMatching(/^\/crew\/alder\/photos\?sent=.*&date=2026-12-03$/),
    ]);
    const page = await (await app.get(next, alder)).text();
    expect(page).toContain("The photo is with the office.");
    expect(page).toMatch(
      /<img src="\/crew\/alder\/photos\/1\/small"[^>]* alt="Photo of 12 Harbor Road: Side the front by Alder/,
    );
    expect(await (await app.get(`/crew/alder/photos?sent=${randomUUID()}`, alder)).text()).not.toContain(
      "is with the office",
    );
  });

  it("speaks Spanish where the form did", async () => {
    const { send, alder } = await openHouse();
    const fields = { lang: "es", date: "2026-12-03" };
    const refused = await send({ file: Buffer.from("%PDF-1.7"), fields }, alder);
    const page = await refused.text();
    expect([refused.status, page.includes('<html lang="es">')]).toEqual([422, true]);
    expect(page).toContain("Es un PDF y no una foto.");
    const taken = await send({ file: await aPhoto(), fields }, alder);
    expect(taken.headers.get("location")).toContain("lang=es");
  });

  it("is kept without its place, seen by the office as it is stored", async () => {
    const { app, office, send } = await openHouse();
    await send({ file: await aPhotoWithPlace({ width: 400, height: 300, orientation: 6 }) });
    for (const path of ["/photos/1", "/photos/1/small"]) {
      const stored = Buffer.from(await (await app.get(path, office)).arrayBuffer());
      expect(await gps(stored)).toBeUndefined();
      expect(await parse(stored, true)).toBeUndefined();
      expect(stored.includes("Invented")).toBe(false);
    }
  });
});

describe("where a photo can be sent from", () => {
  it("the page for reports has the form, with what the crew works on to choose from", async () => {
    const { app, alder } = await openHouse();
    const page = await (await app.get("/crew/alder/2026-12-03/report", alder)).text();
    const form = page.slice(page.indexOf('action="/crew/alder/photos"'));
    expect(form).toContain('enctype="multipart/form-data"');
    expect(form).toContain('<option value="harbor-12/t2">12 Harbor Road: Trim</option>');
    expect(form).toContain('<option value="harbor-12">12 Harbor Road: the house</option>');
    expect(form).toMatch(/name="key" value="[0-9a-f-]{36}"/);
  });

  it("after a report its photo is of what it was about, also where the crew is done with that", async () => {
    const { app, alder, send, photos } = await openHouse();
    const report = randomUUID();
    const address = `/crew/alder/photos?report=${report}&job=cove-3&date=2026-12-03`;
    const page = await (await app.get(address, alder)).text();
    expect(page).toContain('<option value="cove-3" selected>3 Cove Street: the house</option>');
    expect(page).toContain(`<input type="hidden" name="report" value="${report}">`);
    await send({ file: await aPhoto(), fields: { report, job: "cove-3" } });
    expect(await photos.ofReports([report])).toMatchObject([{ jobId: "cove-3", taskId: null }]);
  });
});

describe("a photo that is not taken", () => {
  it.each([
    ["report.jpg", Buffer.from("%PDF-1.7\n"), "This is a PDF and no photo."],
    ["drawing.jpg", Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"/>'), "This is a drawing (SVG)"],
    ["page.jpg", Buffer.from("<!doctype html><script>alert(1)</script>"), "This is a web page (HTML)"],
    ["note.jpg", Buffer.from("two sheets are soft"), "This is a text and no photo."],
    ["iphone.jpg", Buffer.from("\0\0\0\x18ftypheic\0\0\0\0mif1heic", "latin1"), "Set the camera to"],
    ["noise.jpg", Buffer.from([0xff, 0xd8, 0xff, 0xe0, 1, 2, 3]), "This JPEG file is damaged or cut off."],
  ] as const)("%s is told for what it holds, and nothing is written", async (name, file, sentence) => {
    const { send, countChanges } = await openHouse();
    const before = await countChanges();
    const key = randomUUID();
    const answer = await send({ file, name, fields: { key } });
    expect([answer.status, await answer.json()]).toEqual([
      422,
      { key, state: "faulty", sentence: expect.stringContaining(sentence) },
    ]);
    expect(await countChanges()).toBe(before);
  });

  it("a truncated JPEG is told to be cut off", async () => {
    const { send } = await openHouse();
    const whole = await aNoisyPhoto({ width: 640, height: 480 });
    const answer = await send({ file: whole.subarray(0, whole.length / 2) });
    expect(await answer.json()).toMatchObject({
      state: "faulty",
      sentence: expect.stringContaining("cut off"),
    });
  });

  it.each([
    [{ key: "1" }, "The form has come without its number."],
    [{ job: "" }, "Say at which house the photo was taken."],
    [{ job: "../etc" }, "Say at which house"],
    [{ task: "a b" }, "Say of which task"],
    [{ report: "none" }, "names no report that there can be"],
    [{ takenAt: "yesterday" }, "The time of the photo is no time."],
  ] as const)("a form with %j says what is wrong with it", async (fields, sentence) => {
    const { send } = await openHouse();
    const answer = await send({ file: await aPhoto(), fields });
    expect(answer.status).toBe(422);
    expect(await answer.text()).toContain(sentence);
  });

  it("a form without a file asks for one, and comes back with what was chosen in it", async () => {
    const { send, alder } = await openHouse();
    const answer = await send({ fields: { job: "harbor-12/t2", date: "2026-12-03" } }, alder);
    const page = await answer.text();
    expect(answer.status).toBe(422);
    expect(page).toContain("Choose a photo.");
    expect(page).toContain('<option value="harbor-12/t2" selected>');
  });

  it("several files at once are told to come one by one", async () => {
    const { app, alder } = await openHouse();
    const form = aPhotoForm({ file: await aPhoto() });
    form.append("photo", new Blob([Uint8Array.from(await aPhoto())]), "second.jpg");
    const headers = { ...alder, origin: app.url, accept: "application/json" };
    const answer = await fetch(`${app.url}/crew/alder/photos`, { method: "POST", body: form, headers });
    expect([answer.status, await answer.json()]).toMatchObject([
      422,
      { sentence: expect.stringContaining("one photo at a time") },
    ]);
  });

  it("a form that is none is told to come again", async () => {
    const { app, alder } = await openHouse();
    const headers = {
      ...alder,
      origin: app.url,
      accept: "application/json",
      "content-type": "multipart/form-data; boundary=x",
    };
    const answer = await fetch(`${app.url}/crew/alder/photos`, {
      method: "POST",
      body: "--x\r\nhalf a",
      headers,
    });
    expect([answer.status, await answer.json()]).toMatchObject([
      422,
      { sentence: expect.stringContaining("Send it again") },
    ]);
  });
});

/** Sends a form of that many bytes piece by piece, and goes on until it is answered or all of it is sent. */
function sendLarge(
  url: string,
  headers: Readonly<Record<string, string>>,
  megabytes: number,
  { isLengthSaid }: { readonly isLengthSaid: boolean },
): Promise<{ readonly status: number | undefined; readonly text: string; readonly sentBefore: number }> {
  const head = '--x\r\nContent-Disposition: form-data; name="photo"; filename="a.jpg"\r\n\r\n';
  const tail = "\r\n--x--\r\n";
  const length = megabytes * MEGABYTE;
  return new Promise((resolve, reject) => {
    let sent = 0;
    const asked = request(`${url}/crew/alder/photos`, {
      method: "POST",
      headers: {
        ...headers,
        origin: url,
        accept: "application/json",
        "content-type": "multipart/form-data; boundary=x",
        ...(isLengthSaid && { "content-length": String(head.length + length + tail.length) }),
      },
    });
    asked.on("error", reject);
    asked.on("response", (response) => {
      const sentBefore = sent;
      let text = "";
      response.setEncoding("utf8").on("data", (part: string) => (text += part));
      response.on("end", () => resolve({ status: response.statusCode, text, sentBefore }));
    });
    const piece = Buffer.alloc(MEGABYTE / 4, 0xab);
    const go = (): void => {
      while (sent < length) {
        sent += piece.length;
        if (!asked.write(piece)) {
          asked.once("drain", go);
          return;
        }
      }
      asked.end(tail);
    };
    asked.write(head);
    go();
  });
}

describe("a photo that is too big", () => {
  it.each([
    [50, true],
    [50, false],
    [11, false],
  ])(
    "of %d MB (length said beforehand: %j) is answered with 413 and a sentence",
    async (megabytes, isLengthSaid) => {
      const { app, alder, countChanges } = await openHouse();
      const before = await countChanges();
      const { status, text } = await sendLarge(app.url, alder, megabytes, { isLengthSaid });
      expect(status).toBe(413);
      expect(JSON.parse(text)).toMatchObject({
        state: "faulty",
        sentence: expect.stringContaining("larger than 10 MB"),
      });
      expect(await countChanges()).toBe(before);
      expect((await app.get("/crew/alder/photos", alder)).status).toBe(200);
    },
  );

  it("is answered before all of it is there: nobody waits for what is thrown away", async () => {
    const { app, alder } = await openHouse();
    const { sentBefore } = await sendLarge(app.url, alder, 100, { isLengthSaid: false });
    expect(sentBefore).toBeLessThan(60 * MEGABYTE);
  });

  it("comes back to a browser's form as a page, and the browser sees it", async () => {
    const { send, alder } = await openHouse();
    const answer = await send({ file: Buffer.alloc(50 * MEGABYTE) }, alder);
    expect(answer.status).toBe(413);
    expect(await answer.text()).toContain("The photo is larger than 10 MB");
  });
});

/** As a browser asks; fetch asks that nothing kept be shown. */
function statusOf(url: string, headers: Readonly<Record<string, string>>): Promise<number | undefined> {
  return new Promise((resolve, reject) => {
    const asked = request(url, { headers }, (response) => {
      response.resume().on("end", () => resolve(response.statusCode));
    });
    asked.on("error", reject).end();
  });
}

describe("more photos than there is room for", () => {
  it("are told to come again in a moment, and are taken once there is room", async () => {
    const { app, alder, send } = await openHouse();
    // Of thirteen of the largest there is room for twelve, whichever comes last.
    const halfSent = Array.from({ length: 13 }, () => {
      const asked = request(`${app.url}/crew/alder/photos`, {
        method: "POST",
        headers: {
          ...alder,
          origin: app.url,
          "content-type": "multipart/form-data; boundary=x",
          "content-length": String(10 * MEGABYTE),
        },
      });
      asked.on("error", () => undefined);
      asked.write("--x\r\n");
      return asked;
    });
    const refused = await Promise.race(
      halfSent.map(
        (asked) =>
          new Promise<number | undefined>((resolve) => {
            asked.once("response", ({ statusCode }) => resolve(statusCode));
          }),
      ),
    );
    expect(refused).toBe(503);
    const answers = async (): Promise<readonly [number, string | null]> => {
      const answer = await send({ file: await aNoisyPhoto({ width: 2600, height: 2600 }) });
      return [answer.status, answer.headers.get("retry-after")];
    };
    expect(await (await send({ file: Buffer.alloc(9 * MEGABYTE) })).json()).toMatchObject({
      state: "faulty",
      sentence: expect.stringContaining("Send it again in a minute"),
    });
    for (const asked of halfSent) asked.destroy();
    await expect.poll(answers, { timeout: 30_000 }).toEqual([200, null]);
  });
});

describe("a picture", () => {
  it("is shown as a JPEG that nobody between keeps, and is sent again only where it is another one", async () => {
    const { app, office, send } = await openHouse();
    await send({ file: await aPhoto() });
    const answer = await app.get("/photos/1", office);
    expect(Object.fromEntries(answer.headers)).toMatchObject({
      "content-type": "image/jpeg",
      "x-content-type-options": "nosniff",
      "cache-control": "private, no-cache",
      "content-disposition": 'inline; filename="photo-1.jpg"',
    });
    const etag = present(answer.headers.get("etag"), "its tag");
    expect(await statusOf(`${app.url}/photos/1`, { ...office, "if-none-match": etag })).toBe(304);
    expect(await statusOf(`${app.url}/photos/1/small`, { ...office, "if-none-match": etag })).toBe(200);
  });

  it("is shown to its crew and to no other, and to nobody who has no link", async () => {
    const { app, alder, birch, viewer, send } = await openHouse();
    await send({ file: await aPhoto() });
    for (const size of ["", "/small"]) {
      expect(await statusOf(`${app.url}/crew/alder/photos/1${size}`, alder)).toBe(200);
      expect(await statusOf(`${app.url}/crew/alder/photos/1${size}`, birch)).toBe(403);
      // Her own address, and another crew's photo.
      expect(await statusOf(`${app.url}/crew/birch/photos/1${size}`, birch)).toBe(404);
      expect(await statusOf(`${app.url}/photos/1${size}`, alder)).toBe(403);
      expect(await statusOf(`${app.url}/photos/1${size}`, viewer)).toBe(200);
      expect(await statusOf(`${app.url}/photos/1${size}`, {})).toBe(303);
      expect(await statusOf(`${app.url}/crew/alder/photos/1${size}`, {})).toBe(303);
    }
    expect(await (await app.get("/crew/birch/photos", birch)).text()).not.toContain("<img");
  });

  it("is not sent by another crew's link, nor by a viewer", async () => {
    const { send, birch, viewer, countChanges } = await openHouse();
    const before = await countChanges();
    const file = await aPhoto();
    expect((await send({ file }, birch)).status).toBe(403);
    expect((await send({ file }, viewer)).status).toBe(403);
    expect((await send({ file }, {})).status).toBe(303);
    expect(await countChanges()).toBe(before);
  });

  it.each(["0", "2", "x", "1e3", "-1", "99999999999999999999"])(
    "of number %s is not there",
    async (number) => {
      const { app, office, send } = await openHouse();
      await send({ file: await aPhoto() });
      expect((await app.get(`/photos/${number}`, office)).status).toBe(404);
    },
  );

  it("that has been taken back is shown no more, on no page", async () => {
    const { app, alder, office, send, undoLast } = await openHouse();
    await send({ file: await aPhoto() });
    await undoLast();
    expect((await app.get("/photos/1", office)).status).toBe(404);
    expect((await app.get("/crew/alder/photos/1", alder)).status).toBe(404);
    for (const path of ["/jobs/harbor-12", "/record"]) {
      expect(await (await app.get(path, office)).text()).not.toContain("/photos/1");
    }
  });
});

describe("photos on pages of the office", () => {
  it("stand beside their task, beside the house, and in the record beside the row that tells of them", async () => {
    const { app, office, send } = await openHouse();
    // From a phone that is 12 days slow.
    const times = { takenAt: "2026-11-21T15:00:00-05:00", sentAt: "2026-11-21T16:00:00-05:00" };
    await send({ file: await aPhoto(), fields: { task: "t2", ...times } });
    await send({ file: await aPhoto() });
    const page = await (await app.get("/jobs/harbor-12", office)).text();
    const task = page.slice(page.indexOf('id="task-t2"'), page.indexOf("Photos of the house"));
    expect(task).toContain('alt="Photo of 12 Harbor Road: Trim by Alder, Thu 3 Dec, 3:00 pm"');
    expect(task).not.toContain("/photos/2/small");
    expect(page.slice(page.indexOf("Photos of the house"))).toContain(
      '<a href="/photos/2"><img src="/photos/2/small"',
    );
    const record = await (await app.get("/record", office)).text();
    const row = record.slice(record.indexOf("Photo from Alder: 12 Harbor Road, Trim."));
    expect(row).toContain("/photos/1/small");
    expect(row).toContain("photo added");
  });

  it("of a house that has none has no heading for them", async () => {
    const { app, office } = await openHouse();
    expect(await (await app.get("/jobs/harbor-12", office)).text()).not.toContain("Photos");
  });
});
