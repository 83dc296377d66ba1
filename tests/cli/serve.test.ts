/**
 * `daylap serve`, as a process: it says where it is, answers there, and stops when it is asked to.
 */
import { mkdtemp, readFile, readdir, rm } from "node:fs/promises";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { parseCompanyText } from "../../src/domain/company-file.js";
import { runDaylap, startCommand, waitForOutput } from "../support/command.js";

const DEMO = ["serve", "--demo", "--as-of", "2026-12-07T18:00", "--port", "0"];

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "daylap-serve-"));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

describe("daylap serve", () => {
  it.each(["SIGINT", "SIGTERM"] as const)(
    "prints an address that answers, and ends well on %s",
    async (signal) => {
      const { child, ended } = startCommand(DEMO);
      const [, url = ""] = await waitForOutput(child, ended, /Daylap is at (http:\S+)\n/);
      const answer = await fetch(url);
      expect(answer.status).toBe(200);
      await answer.text();
      child.kill(signal);
      expect(await ended).toMatchObject({ code: 0, err: "" });
    },
  );

  it("lays the demo freshly into the folder that is named, as a sound company file", async () => {
    const { child, ended } = startCommand([...DEMO, "--folder", folder]);
    await waitForOutput(child, ended, /Stop it with/);
    child.kill("SIGTERM");
    await ended;
    expect(await readdir(folder)).toEqual(["daylap-demo.json"]);
    expect(parseCompanyText(await readFile(join(folder, "daylap-demo.json"), "utf8")).ok).toBe(true);
  });

  it("leaves no demo file behind where no folder is named", async () => {
    const { child, ended } = startCommand(DEMO);
    const [, path = ""] = await waitForOutput(child, ended, /Company file: (\S+)\n/);
    expect(parseCompanyText(await readFile(path, "utf8")).ok).toBe(true);
    child.kill("SIGTERM");
    await ended;
    await expect(readFile(path)).rejects.toThrow("ENOENT");
  });

  it("warns where others than this machine can reach it", async () => {
    const { child, ended } = startCommand([...DEMO, "--host", "0.0.0.0"]);
    await waitForOutput(child, ended, /Stop it with/);
    child.kill("SIGTERM");
    expect((await ended).out).toContain("There is no sign-in yet");
  });

  it("says so where the address is none of this machine", async () => {
    const { code, out, err } = await runDaylap(...DEMO, "--host", "192.0.2.1");
    expect({ code, out }).toEqual({ code: 2, out: "" });
    expect(err).toBe('"192.0.2.1" is no address of this machine. Choose another with --host.\n');
  });

  it("says so where the port is taken, and ends with 2", async () => {
    const other = createServer();
    const port = await new Promise<number>((resolve) => {
      other.listen(0, "127.0.0.1", () => {
        const address = other.address();
        resolve(typeof address === "object" && address !== null ? address.port : 0);
      });
    });
    const { code, out, err } = await runDaylap("serve", "--demo", "--port", String(port));
    other.close();
    expect({ code, out }).toEqual({ code: 2, out: "" });
    expect(err).toBe(
      `Port ${port} is taken by another program. Choose another with --port, or --port 0 for any free one.\n`,
    );
  });

  it("says so where the folder for the demo is not there", async () => {
    const { code, out, err } = await runDaylap(...DEMO, "--folder", join(folder, "nowhere"));
    expect({ code, out }).toEqual({ code: 2, out: "" });
    expect(err).toMatch(/The demo company cannot be laid into .*nowhere: there is no such file\./);
  });
});
