import { SaxesParser } from "saxes";
import { WorkbookFault } from "./workbook-fault.ts";

/** What happens as an XML text is read. Names of elements and attributes come without their prefixes. */
export interface XmlHandler {
  open?(name: string, attributes: Readonly<Record<string, string>>): void;
  close?(name: string): void;
  text?(text: string): void;
}

/** Steps in which a text is handed to the parser. */
const STEP = 1 << 16;

/**
 * Reads a part of a workbook as XML, strictly. A document type is refused: workbooks have none, and entities of its own are how
 * a small file is made to unfold into a huge one.
 *
 * @throws WorkbookFault when the text is not well-formed
 */
export function readXml(text: string, part: string, handler: XmlHandler): void {
  const parser = new SaxesParser({ xmlns: false });
  const refuse = (what: string): never => {
    throw new WorkbookFault("damaged", `the file is damaged: ${part} ${what}`);
  };
  parser.on("error", () => refuse("is not well-formed XML"));
  parser.on("doctype", () => refuse("has a document type"));
  parser.on("opentag", ({ name, attributes }) => {
    if (handler.open === undefined) return;
    const own: Record<string, string> = {};
    for (const key of Object.keys(attributes)) own[local(key)] = attributes[key]!;
    handler.open(local(name), own);
  });
  parser.on("closetag", ({ name }) => handler.close?.(local(name)));
  const say = (more: string) => handler.text?.(more);
  parser.on("text", say);
  parser.on("cdata", say);
  for (let at = 0; at < text.length; at += STEP) parser.write(text.slice(at, at + STEP));
  parser.close();
}

function local(name: string): string {
  const colon = name.indexOf(":");
  return colon < 0 ? name : name.slice(colon + 1);
}
