/** `daylap schema`: the JSON Schema of a company file, for programs that write one. */
import { companyJsonSchema } from "../domain/company-json-schema.js";
import type { Command } from "./command.js";
import { GOOD } from "./output.js";

export const schemaCommand: Command = {
  grammar: { command: "schema", values: {}, switches: [], files: [] },
  usage: "daylap schema",
  summary: "print the JSON Schema of a company file",
  run: (_, output) => {
    output.out(`${JSON.stringify(companyJsonSchema(), null, 2)}\n`);
    return Promise.resolve(GOOD);
  },
};
