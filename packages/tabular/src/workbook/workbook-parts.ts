import { fromUtf8 } from "../text-codec.ts";
import { unescapedText } from "./escaped-text.ts";
import { type NumberFormat, numberFormat } from "./number-format.ts";
import { WorkbookFault } from "./workbook-fault.ts";
import { readXml } from "./xml-events.ts";
import type { ZipArchive } from "./zip-archive.ts";

/** What a workbook's parts say about its sheets, before any sheet is read. */
export interface WorkbookParts {
  readonly sheets: readonly { readonly name: string; readonly hidden: boolean; readonly part: string }[];
  readonly from1904: boolean;
  readonly sharedTexts: readonly string[];
  /** Formats by the number that cells give. */
  readonly formats: readonly NumberFormat[];
}

/** The text of a part. */
export function partText(archive: ZipArchive, part: string): string {
  try {
    return fromUtf8(archive.read(part));
  } catch (error) {
    if (error instanceof WorkbookFault) throw error;
    throw new WorkbookFault("damaged", `the file is damaged: ${part} is not valid UTF-8`);
  }
}

/** Reads the parts around the sheets: relations, list of sheets, shared texts, number formats. */
export function readParts(archive: ZipArchive): WorkbookParts {
  const main = [...relations(archive, "_rels/.rels", "").values()].find(
    ({ type }) => type === "officeDocument",
  )?.target;
  if (main === undefined) throw new WorkbookFault("not-a-workbook", "it is a zip archive, but no workbook");
  if (!/\.xml$/i.test(main))
    throw new WorkbookFault("other-format", `it is a workbook of another format (${main.split("/").at(-1)})`);
  const slash = main.lastIndexOf("/") + 1;
  const related = relations(archive, `${main.slice(0, slash)}_rels/${main.slice(slash)}.rels`, main.slice(0, slash));
  const part = (type: string) => [...related.values()].find((relation) => relation.type === type)?.target;
  const sheets: { name: string; hidden: boolean; part: string }[] = [];
  let from1904 = false;
  const seen = { workbook: false };
  readXml(partText(archive, main), main, {
    open(name, attributes) {
      if (name === "workbook") seen.workbook = true;
      if (name === "workbookPr") from1904 = isTrue(attributes["date1904"]);
      if (name !== "sheet") return;
      const relation = related.get(attributes["id"] ?? "");
      if (relation?.type !== "worksheet") return;
      const hidden = (attributes["state"] ?? "visible") !== "visible";
      sheets.push({ name: unescapedText(attributes["name"] ?? ""), hidden, part: relation.target });
    },
  });
  if (!seen.workbook) throw new WorkbookFault("not-a-workbook", "it is an office document, but no workbook");
  const texts = part("sharedStrings");
  const styles = part("styles");
  return {
    sheets,
    from1904,
    sharedTexts: texts === undefined ? [] : readTexts(archive, texts),
    formats: styles === undefined ? [] : readFormats(archive, styles),
  };
}

/** True as the format writes it. */
export function isTrue(value: string | undefined): boolean {
  return value === "1" || value === "true";
}

function relations(
  archive: ZipArchive,
  part: string,
  folder: string,
): ReadonlyMap<string, { readonly type: string; readonly target: string }> {
  const found = new Map<string, { type: string; target: string }>();
  if (!archive.has(part)) return found;
  readXml(partText(archive, part), part, {
    open(name, { Id = "", Type = "", Target = "", TargetMode = "" }) {
      if (name !== "Relationship" || TargetMode === "External") return;
      const target = Target.startsWith("/") ? Target.slice(1) : folder + Target;
      found.set(Id, { type: Type.slice(Type.lastIndexOf("/") + 1), target: plainPath(target) });
    },
  });
  return found;
}

/** A path without `.` and `..`. */
function plainPath(path: string): string {
  const parts: string[] = [];
  for (const part of path.split("/")) {
    if (part === "..") parts.pop();
    else if (part !== ".") parts.push(part);
  }
  return parts.join("/");
}

function readTexts(archive: ZipArchive, part: string): string[] {
  const texts: string[] = [];
  let text = "";
  let inText = false;
  let phonetic = false;
  readXml(partText(archive, part), part, {
    open(name) {
      if (name === "si") text = "";
      if (name === "rPh") phonetic = true;
      inText = name === "t" && !phonetic;
    },
    text(more) {
      if (inText) text += more;
    },
    close(name) {
      inText = false;
      if (name === "rPh") phonetic = false;
      if (name === "si") texts.push(unescapedText(text));
    },
  });
  return texts;
}

function readFormats(archive: ZipArchive, part: string): NumberFormat[] {
  const codes = new Map<number, string>();
  const formats: NumberFormat[] = [];
  let inCells = false;
  readXml(partText(archive, part), part, {
    open(name, attributes) {
      if (name === "numFmt") codes.set(Number(attributes["numFmtId"]), attributes["formatCode"] ?? "");
      if (name === "cellXfs") inCells = true;
      if (name !== "xf" || !inCells) return;
      const id = Number(attributes["numFmtId"] ?? 0);
      formats.push(numberFormat(id, codes.get(id)));
    },
    close(name) {
      if (name === "cellXfs") inCells = false;
    },
  });
  return formats;
}
