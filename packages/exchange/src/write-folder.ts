import { type Campaign, DESCRIPTOR_FILE, outlineOf, type Table, tableFields } from "@alcedo-dosimetry/campaign";
import { recordText, toUtf8 } from "@alcedo-dosimetry/tabular";

/**
 * Writes a campaign as a folder: UTF-8 without byte-order mark, lines ended by `\n`, commas between cells (semicolons where
 * the table has decimal commas), every cell with its text as typed. The resources state how their files are written
 * and describe each column, so that general tools and {@link readFolder} need not guess. The same campaign gives the same
 * bytes, and reading them gives the same campaign.
 *
 * @returns the bytes of each file by its path
 * @throws Error when tables and resources do not match, or a text is not well-formed Unicode
 *   or holds a zero character
 */
export function writeFolder(campaign: Campaign): ReadonlyMap<string, Uint8Array> {
  const { descriptor, tables } = campaign;
  const outline = outlineOf(descriptor);
  if (outline === undefined) throw new Error("only a campaign with a valid descriptor can be written");
  const strangers = Object.keys(tables).filter((name) => !outline.resources.some((resource) => resource.name === name));
  if (strangers.length > 0) throw new Error(`no resource describes the table ${strangers[0]}`);
  const files = new Map<string, Uint8Array>();
  const resources = descriptor.resources.map((resource) => {
    if (resource.alcedo.series === "characterisation") {
      const { characterisation } = campaign;
      if (characterisation === undefined) throw new Error("the campaign lacks the characterisation that it names");
      files.set(resource.path, toUtf8(`${JSON.stringify(characterisation, undefined, 2)}\n`));
      const { bytes: _size, hash: _digest, ...described } = resource;
      return { ...described, format: "json", mediatype: "application/json", encoding: "utf-8" };
    }
    const listed = outline.resources.find(({ name }) => name === resource.name);
    const table = Object.hasOwn(tables, resource.name) ? tables[resource.name] : undefined;
    if (listed === undefined || table === undefined) throw new Error(`the resource ${resource.name} has no table`);
    const delimiter = table.decimal === "," ? ";" : ",";
    files.set(resource.path, toUtf8(tableText(table, delimiter)));
    // Size and digest of a file written elsewhere say nothing about this one.
    const { bytes: _bytes, hash: _hash, ...kept } = resource;
    return {
      ...kept,
      format: "csv",
      mediatype: "text/csv",
      encoding: "utf-8",
      dialect: { delimiter },
      schema: { ...resource.schema, fields: tableFields(listed.series, outline.channels, table) },
    };
  });
  const json = `${JSON.stringify({ ...descriptor, resources }, undefined, 2)}\n`;
  return new Map([[DESCRIPTOR_FILE, toUtf8(json)], ...files]);
}

function tableText(table: Table, delimiter: string): string {
  const text = [table.columns, ...table.rows].map((record) => `${recordText(record, delimiter)}\n`).join("");
  if (text.includes("\u0000")) throw new Error(`a cell of ${table.path} holds a zero character`);
  return text;
}
