/** Photos in the database, on every engine: each once, on record, found again, and gone from sight when taken back. */
import { randomUUID } from "node:crypto";
import { afterEach, describe, expect, it } from "vitest";
import type { Company } from "../../src/domain/company-schema.js";
import { present } from "../../src/domain/result.js";
import { openDesk, type OpenDesk } from "../../src/services/company-desk.js";
import { openPhotos, type Photos, type SentPhoto } from "../../src/services/photos.js";
import { openRecord } from "../../src/services/record.js";
import { openDatabase, type Database } from "../../src/store/database.js";
import { aCompany, aJob, aTask } from "../support/company-builder.js";
import { listTestEngines, makeTestDatabase, type TestEngine } from "../support/database.js";
import { ROBIN } from "../support/desk.js";
import { aNoisyPhoto } from "../support/photos.js";
import { sharedWorker } from "../support/shared-worker.js";

const NOW = new Date("2026-12-07T20:30:00Z");
const HOUSE = aCompany({
  jobs: [
    aJob({ id: "harbor-12", name: "12 Harbor Road", tasks: [aTask({ id: "t1", title: "Side the front" })] }),
  ],
});
const LEAD = { personId: null, personName: "Nell Ashe" };

interface House {
  readonly desk: OpenDesk;
  readonly database: Database;
  readonly photos: Photos;
  readonly company: Company;
  /** A photo of the crew Alder as it is sent. */
  readonly sent: (fields?: Partial<SentPhoto>) => Promise<SentPhoto>;
}

const closings: (() => Promise<void>)[] = [];
afterEach(async () => {
  for (const close of closings.splice(0).toReversed()) await close();
});

async function openHouse(engine: TestEngine): Promise<House> {
  const testDatabase = await makeTestDatabase(engine);
  closings.push(() => testDatabase.drop());
  const database = openDatabase(testDatabase.url);
  closings.push(() => database.close());
  const clock = (): number => Math.floor(NOW.getTime() / 60_000);
  const desk = await openDesk(database, { seed: 1, iterations: 0, worker: sharedWorker(), clock });
  closings.push(() => desk.close());
  const loaded = await desk.load(HOUSE, ROBIN, "");
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.error));
  const { company } = desk.current();
  const crew = present(
    company.crews.find(({ id }) => id === "alder"),
    "the crew Alder",
  );
  const photos = openPhotos(database, clock);
  const sent = async (fields: Partial<SentPhoto> = {}): Promise<SentPhoto> => ({
    key: randomUUID(),
    reportKey: null,
    jobId: "harbor-12",
    taskId: "t1",
    crew,
    company,
    takenAt: null,
    file: await aNoisyPhoto({ width: 64, height: 48 }),
    ...fields,
  });
  return { desk, database, photos, company, sent };
}

describe.each(listTestEngines())("a photo, on %s", (engine) => {
  it("is kept with its house, its task, its crew, and who sent it, and is on record", async () => {
    const { database, photos, sent } = await openHouse(engine);
    const takenAt = new Date("2026-12-07T20:05:00Z");
    expect(await photos.take(await sent({ takenAt }), LEAD)).toEqual({ ok: true, value: "taken" });
    const [photo] = await photos.ofJob("harbor-12");
    expect(photo).toMatchObject({
      jobId: "harbor-12",
      taskId: "t1",
      crewId: "alder",
      takenAt,
      receivedAt: NOW,
      saidBy: "Nell Ashe",
      width: 64,
      height: 48,
    });
    const [change] = await openRecord(database).list({ limit: 1 });
    expect(change).toMatchObject({
      version: photo?.version,
      kind: "photo-added",
      sentence: "Photo from Alder: 12 Harbor Road, Side the front.",
      personName: "Nell Ashe",
      before: {},
      after: {},
    });
  });

  it("that is sent again by the same key, even at once, is taken once", async () => {
    const { photos, database, sent } = await openHouse(engine);
    const photo = await sent();
    const answers = await Promise.all([1, 2, 3].map(() => photos.take(photo, LEAD)));
    const states = answers.map((answer) => (answer.ok ? answer.value : "refused"));
    expect(states.toSorted()).toEqual(["taken", "taken-before", "taken-before"]);
    expect(await photos.ofJob("harbor-12")).toHaveLength(1);
    expect(await openRecord(database).list({ limit: 9, kind: "photo-added" })).toHaveLength(1);
  });

  it("is seen by every desk as any other change is, which plans for it", async () => {
    const { desk, photos, sent } = await openHouse(engine);
    const { version } = desk.current();
    await photos.take(await sent(), LEAD);
    await expect.poll(() => desk.current().version, { timeout: 10_000 }).toBe(version + 1);
  });

  it("comes back to the byte, whole and small, and is found by report, by change and by crew", async () => {
    const { photos, sent } = await openHouse(engine);
    const reportKey = randomUUID();
    await photos.take(await sent({ reportKey, file: await aNoisyPhoto({ width: 900, height: 700 }) }), LEAD);
    await photos.take(await sent({ taskId: null }), LEAD);
    const [ofReport] = await photos.ofReports([reportKey]);
    const id = present(ofReport?.id, "the photo of the report");
    const [whole, small] = await Promise.all([photos.find(id, "whole"), photos.find(id, "small")]);
    expect([...(whole?.bytes.subarray(0, 3) ?? [])]).toEqual([0xff, 0xd8, 0xff]);
    expect((small?.bytes.length ?? 0) < (whole?.bytes.length ?? 0)).toBe(true);
    expect(whole?.crewId).toBe("alder");
    expect(await photos.ofReports([randomUUID()])).toEqual([]);
    const version = present(ofReport?.version, "the photo's change");
    expect((await photos.ofChanges([version])).map((photo) => photo.id)).toEqual([id]);
    expect(await photos.ofCrew("alder", 1)).toMatchObject([{ taskId: null }]);
    expect(await photos.find(id + 1_000, "whole")).toBeUndefined();
  });

  it("is never later than the moment it came in, whatever the phone's clock says", async () => {
    const { photos, sent } = await openHouse(engine);
    await photos.take(await sent({ takenAt: new Date("2031-01-01T00:00:00Z") }), LEAD);
    expect((await photos.ofJob("harbor-12"))[0]?.takenAt).toEqual(NOW);
  });

  it("of a house or a task that is gone by now is taken, and the record says so", async () => {
    const { photos, database, sent } = await openHouse(engine);
    await photos.take(await sent({ taskId: "gone" }), LEAD);
    await photos.take(await sent({ jobId: "gone-1", taskId: null }), LEAD);
    const sentences = (await openRecord(database).list({ limit: 2 })).map(({ sentence }) => sentence);
    expect(sentences).toEqual([
      'Photo from Alder: house "gone-1", which is not there any more.',
      'Photo from Alder: 12 Harbor Road, task "gone", which is not there any more.',
    ]);
    expect(await photos.ofJob("gone-1")).toHaveLength(1);
  });

  it("that cannot be read is refused, and nothing is written", async () => {
    const { photos, database, sent } = await openHouse(engine);
    const refused = await photos.take(await sent({ file: Buffer.from("%PDF-1.7") }), LEAD);
    expect(refused).toEqual({ ok: false, error: { kind: "other-kind", is: "pdf" } });
    expect(await openRecord(database).list({ limit: 9, kind: "photo-added" })).toEqual([]);
  });

  it("whose change is taken back is shown to nobody, and is there again when that is taken back", async () => {
    const { desk, photos, sent } = await openHouse(engine);
    const photo = await sent({ reportKey: randomUUID() });
    await photos.take(photo, LEAD);
    const [kept] = await photos.ofJob("harbor-12");
    const { id, version } = present(kept, "the photo");
    const everywhere = async () => [
      ...(await photos.ofJob("harbor-12")),
      ...(await photos.ofCrew("alder", 9)),
      ...(await photos.ofChanges([version])),
      ...(await photos.ofReports([present(photo.reportKey, "its report")])),
    ];
    expect(await everywhere()).toHaveLength(4);
    expect(await desk.undo(version, ROBIN, "a face is on it")).toEqual({ ok: true, value: undefined });
    expect(await everywhere()).toEqual([]);
    expect(await photos.find(id, "whole")).toBeUndefined();
    expect(await photos.take(photo, LEAD)).toEqual({ ok: true, value: "taken-before" });
    expect(await desk.undo(version + 1, ROBIN, "")).toEqual({ ok: true, value: undefined });
    expect(await everywhere()).toHaveLength(4);
    expect(await photos.find(id, "small")).toBeDefined();
  });
});
