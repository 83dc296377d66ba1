/**
 * The few things that the store asks of the disk, and the real disk.
 * A test hands over a disk that fails where it wants; the order of the steps is the store's business.
 */
import { createReadStream } from "node:fs";
import { open, readFile, rename, rm, stat, writeFile } from "node:fs/promises";

export interface Disk {
  /** The whole file as UTF-8; a byte order mark stays in. */
  readText(path: string): Promise<string>;
  exists(path: string): Promise<boolean>;
  /** Writes a new file, or its texts one after another, and returns when its bytes are on the disk. Fails where it exists. */
  writeNew(path: string, text: string | AsyncIterable<string>, mode: number): Promise<void>;
  rename(from: string, to: string): Promise<void>;
  /** Forces a folder's list of names onto the disk, so that a rename outlives a power cut. */
  syncFolder(path: string): Promise<void>;
  /** Removes a file; no error where there is none. */
  remove(path: string): Promise<void>;
}

/** A file's bytes, a piece at a time, from its beginning. What the disk refuses is thrown. */
export async function* readChunks(path: string): AsyncGenerator<Uint8Array, void> {
  const stream: AsyncIterable<Uint8Array> = createReadStream(path);
  yield* stream;
}

export const realDisk: Disk = {
  readText: (path) => readFile(path, "utf8"),
  exists: (path) =>
    stat(path).then(
      () => true,
      (error: unknown) => {
        if (error instanceof Error && "code" in error && error.code === "ENOENT") return false;
        throw error;
      },
    ),
  async writeNew(path, text, mode) {
    const file = await open(path, "wx", mode);
    try {
      // What open gives is cut by the process's mask.
      await file.chmod(mode);
      await writeFile(file, text, "utf8");
      await file.sync();
    } finally {
      await file.close();
    }
  },
  rename,
  async syncFolder(path) {
    const folder = await open(path, "r");
    try {
      await folder.sync();
    } finally {
      await folder.close();
    }
  },
  remove: (path) => rm(path, { force: true }),
};
