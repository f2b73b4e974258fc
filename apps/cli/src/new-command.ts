import { basename, resolve } from "node:path";
import { DESCRIPTOR_FILE } from "@alcedo-dosimetry/campaign";
import type { Page } from "./page.ts";
import { printable } from "./printable.ts";
import { shellWord } from "./shell-word.ts";
import { type TemplateNames, templateDescriptor } from "./template-descriptor.ts";
import { templateInstructions } from "./template-instructions.ts";
import { templateTables } from "./template-tables.ts";
import { templateWorkbook } from "./template-workbook.ts";
import type { World } from "./world.ts";
import { wrap } from "./wrap.ts";
import { writeNewFile } from "./write-new-file.ts";
import { writeNewFolder } from "./write-new-folder.ts";

/** What `alcedo new` may be told. */
export interface NewOptions {
  readonly title?: string;
  readonly channels: readonly string[];
  readonly fibre: string;
  readonly background: boolean;
  readonly empty?: boolean;
  readonly xlsx?: boolean;
}

/** `alcedo new`: a campaign to fill in, as a folder or a workbook. Writes into a new file, or an empty or new folder, and nowhere else. */
export async function newCommand(folder: string, options: NewOptions, world: World): Promise<0 | 2> {
  const names: TemplateNames = {
    folder: basename(resolve(folder)).replace(/\.xlsx$/i, ""),
    title: options.title ?? "Small-field output factors",
    fibre: options.fibre,
    channels: options.channels,
    background: options.background,
    example: options.empty !== true,
  };
  if (names.example && names.channels.length > 2)
    return refused(world.errors, "Example readings are for two channels; with more, say --empty: headers only.");
  const tables = new Map([
    [DESCRIPTOR_FILE, `${JSON.stringify(templateDescriptor(names), undefined, 2)}\n`],
    ...[...templateTables(names)].map(([series, text]) => [`${series}.csv`, text] as const),
  ]);
  if (options.xlsx || /\.xlsx$/i.test(folder)) return newWorkbook(folder, names, tables, world);
  const files = new Map([...tables, ["README.md", templateInstructions(names)]]);
  const reason = writeNewFolder(folder, files);
  if (reason !== undefined) return refused(world.errors, reason);
  const shown = printable(folder);
  world.page.print([
    `${shown}: ${[...files.keys()].join(", ")}`,
    "",
    ...wrap(
      names.example
        ? "The readings in it are invented, so that you can see a result at once; README.md says what to deliver and how to put your own readings in their place."
        : "README.md says what to deliver, in order, and explains every column.",
      world.page.width,
    ),
    "",
    `  alcedo check ${shellWord(folder)}`,
    `  alcedo evaluate ${shellWord(folder)}`,
  ]);
  return 0;
}

async function newWorkbook(
  path: string,
  names: TemplateNames,
  tables: ReadonlyMap<string, string>,
  world: World,
): Promise<0 | 2> {
  const file = /\.xlsx$/i.test(path) ? path : `${path}.xlsx`;
  const reason = writeNewFile(file, await templateWorkbook(names, tables));
  if (reason !== undefined) return refused(world.errors, reason);
  world.page.print([
    ...wrap(
      `${printable(file)}: ${names.example ? "the readings in it are invented, so that you can see a result at once; " : ""}the sheet "read me" says what to deliver, in order, and explains every column.`,
      world.page.width,
    ),
    "",
    `  alcedo check ${shellWord(file)}`,
    `  alcedo evaluate ${shellWord(file)}`,
  ]);
  return 0;
}

function refused(errors: Page, message: string): 2 {
  errors.print(wrap(`alcedo new: ${message}`, errors.width));
  return 2;
}
