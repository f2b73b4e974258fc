import { mkdirSync, readdirSync, writeFileSync } from "node:fs";
import { basename, join, resolve } from "node:path";
import { DESCRIPTOR_FILE } from "@alcedo-dosimetry/campaign";
import type { Page } from "./page.ts";
import { printable } from "./printable.ts";
import { errorCode, reasonOf } from "./system-error.ts";
import { type TemplateNames, templateDescriptor } from "./template-descriptor.ts";
import { templateInstructions } from "./template-instructions.ts";
import { templateTables } from "./template-tables.ts";
import type { World } from "./world.ts";
import { wrap } from "./wrap.ts";

/** What `alcedo new` may be told. */
export interface NewOptions {
  readonly title?: string;
  readonly channels: readonly string[];
  readonly fibre: string;
  readonly background: boolean;
  readonly empty?: boolean;
}

/** `alcedo new`: a campaign folder to fill in. Writes into an empty or a new folder and nowhere else. */
export function newCommand(folder: string, options: NewOptions, world: World): 0 | 2 {
  const names: TemplateNames = {
    folder: basename(resolve(folder)),
    title: options.title ?? "Small-field output factors",
    fibre: options.fibre,
    channels: options.channels,
    background: options.background,
    example: options.empty !== true,
  };
  if (names.example && names.channels.length > 2)
    return refused(world.errors, "Example readings are for two channels; with more, say --empty: headers only.");
  const files = new Map([
    [DESCRIPTOR_FILE, `${JSON.stringify(templateDescriptor(names), undefined, 2)}\n`],
    ...[...templateTables(names)].map(([series, text]) => [`${series}.csv`, text] as const),
    ["README.md", templateInstructions(names)],
  ]);
  try {
    mkdirSync(folder, { recursive: true });
    const there = readdirSync(folder);
    if (there.length > 0) return refused(world.errors, notEmpty(folder, there));
    for (const [file, text] of files) writeFileSync(join(folder, file), text, { flag: "wx" });
  } catch (error) {
    if (errorCode(error) === undefined) throw error;
    const reason = errorCode(error) === "EEXIST" ? "a file of that name is there already" : reasonOf(error);
    return refused(world.errors, `${printable(folder)} cannot be written: ${reason}.`);
  }
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
    `  alcedo check ${quoted(folder)}`,
    `  alcedo evaluate ${quoted(folder)}`,
  ]);
  return 0;
}

function refused(errors: Page, message: string): 2 {
  errors.print(wrap(`alcedo new: ${message}`, errors.width));
  return 2;
}

function notEmpty(folder: string, there: readonly string[]): string {
  const some = there.slice(0, 3).map(printable).join(", ");
  const more = there.length > 3 ? ` and ${there.length - 3} more` : "";
  return `${printable(folder)} is not empty (${some}${more}), and nothing is ever written over. Name a new folder.`;
}

/** A path as a shell takes it. */
function quoted(path: string): string {
  return /^[\w./~-]+$/.test(path) ? path : `'${printable(path).replaceAll("'", "'\\''")}'`;
}
