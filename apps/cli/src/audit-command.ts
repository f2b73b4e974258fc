import { ArchiveError, type KnownSeal } from "@alcedo-dosimetry/archive";
import { auditFolder } from "@alcedo-dosimetry/archive/folder";
import { jsonText } from "./json-output.ts";
import { printable } from "./printable.ts";
import type { World } from "./world.ts";
import { wrap } from "./wrap.ts";

/** How `alcedo audit` is to audit. */
export interface AuditOptions {
  /** Seals that are known from elsewhere. */
  readonly seal?: readonly KnownSeal[];
  readonly json?: boolean;
}

/** `alcedo audit`: whether anything in an archive was altered. Nothing in its folder is changed. */
export async function auditCommand(
  folder: string | undefined,
  { seal: known = [], json = false }: AuditOptions,
  { home, page, errors, stdout }: World,
): Promise<0 | 1 | 2> {
  const archive = folder ?? home;
  try {
    const found = await auditFolder(archive, known);
    if (json) stdout.write(jsonText({ archive, known, ...found }));
    else page.print(lines(archive, known, found, page.width));
    return found.faults.length === 0 ? 0 : 1;
  } catch (error) {
    if (!(error instanceof ArchiveError)) throw error;
    const hint = error.fault === "in-use" ? ` ${OPEN}` : "";
    errors.print(wrap(`alcedo audit: ${printable(error.message)}${hint}`, errors.width));
    return 2;
  }
}

/** What to do while the workbench runs. */
const OPEN = "The workbench has it open, most likely: stop it, or look at the audit in the workbench itself.";

function lines(
  archive: string,
  known: readonly KnownSeal[],
  found: Awaited<ReturnType<typeof auditFolder>>,
  width: number,
) {
  const { revisions, seal, faults } = found;
  const checked = [
    "how the database holds its tables, triggers and cells",
    `the chain of seals from the first revision to the last${known.length === 0 ? "" : `, and ${known.length} known from elsewhere`}`,
    "that lists, people and signatures are what the revisions make them",
    "that each signature is its signer's, under what the archive keeps",
  ];
  const looked = [`Archive ${printable(archive)}`, "Looked at:", ...checked.map((what) => `  ${what}`), ""];
  if (faults.length === 0) {
    const end =
      revisions === 0
        ? ["Nothing is kept in it yet."]
        : [`Nothing was altered in ${revisions} revisions.`, ...head(revisions, seal)];
    return [...looked, ...end];
  }
  return [
    ...looked,
    `${faults.length === 1 ? "One thing is" : `${faults.length} things are`} not as it was kept:`,
    ...faults.flatMap(({ says }) => wrap(`✕ ${printable(says)}`, width)),
    "",
    ...wrap(
      "Leave the folder as it is. Audit the newest backups, and restore the last that is sound into a new folder.",
      width,
    ),
  ];
}

/** The head of the seal, in the form in which `--seal` takes it. */
function head(revisions: number, seal: string): string[] {
  return ["Head of the seal, to be noted elsewhere (signed pages bear it):", `  ${revisions}:${seal}`];
}
