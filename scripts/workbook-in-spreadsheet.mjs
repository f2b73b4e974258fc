/**
 * Opens workbooks in a spreadsheet program (LibreOffice, Debian's libreoffice-calc) and looks at what it makes of them: formulas
 * compute, no cell holds an error, texts stay texts, and a campaign that it saved again is the same campaign.
 *
 * `node scripts/workbook-in-spreadsheet.mjs [FOLDER]` keeps the workbooks in FOLDER, and pictures of their pages if pdftoppm is
 * there. Not part of the tests: it needs the program. SOFFICE names another one than `soffice`.
 */
import { join } from "node:path";
import { runBundled } from "./run-bundled.mjs";
import { root, setUp, withSetupMessages } from "./setup.mjs";

await withSetupMessages(async () => {
  await setUp("run");
  const entryPoints = [join(root, "tests/validation/workbook-in-spreadsheet.ts")];
  process.exitCode = await runBundled("workbook-in-spreadsheet", { entryPoints }, process.argv.slice(2));
});
