import type { FindingLevel } from "./finding.ts";

/** One rule about the form of a campaign: how grave, what it sees, how to mend it (used unless the finding knows better). */
export interface StructureRule {
  readonly level: FindingLevel;
  /** Which part of the reading raises it. */
  readonly from: "folder" | "zip" | "workbook" | "descriptor" | "table";
  readonly sees: string;
  readonly remedy: string;
}

const folder = (level: FindingLevel, sees: string, remedy: string): StructureRule => ({
  level,
  from: "folder",
  sees,
  remedy,
});
const zip = (sees: string, remedy: string): StructureRule => ({ level: "error", from: "zip", sees, remedy });
const workbook = (level: FindingLevel, sees: string, remedy: string): StructureRule => ({
  level,
  from: "workbook",
  sees,
  remedy,
});
const descriptor = (level: FindingLevel, sees: string, remedy: string): StructureRule => ({
  level,
  from: "descriptor",
  sees,
  remedy,
});
const table = (level: FindingLevel, sees: string, remedy: string): StructureRule => ({
  level,
  from: "table",
  sees,
  remedy,
});

/**
 * Every code that the reading of a campaign may raise, in one place. Codes are stable: programs may rely on them. Findings
 * about physics have files of their own.
 */
export const STRUCTURE_CODES = {
  "folder-empty": folder("error", "the folder holds no files", "Make a folder to fill in with `alcedo new`."),
  "descriptor-absent": folder(
    "error",
    "there is no datapackage.json",
    "Name the folder that holds datapackage.json, or make one with `alcedo new`.",
  ),
  "file-absent": folder("error", "a resource names a file that is not there", "Add the file, or correct the path."),
  "file-too-large": folder("error", "a file is larger than 64 MiB", "Divide it, or check that it is the right file."),
  "file-unreadable": folder(
    "error",
    "a file cannot be opened or leads out of the folder",
    "Check its permissions and links.",
  ),
  "file-unlisted": folder(
    "notice",
    "a CSV file that no resource names; it is not read",
    "Add a resource, or move the file away.",
  ),
  "text-binary": folder("error", "a file holds binary data", "Save the table as CSV (UTF-8)."),
  "text-utf16": folder("error", "a file is UTF-16", "Save it as UTF-8."),
  "text-not-utf8": folder("error", "a file is not valid UTF-8", "Save it as UTF-8."),
  "json-syntax": folder("error", "a file is not valid JSON", "Correct the place that is named."),
  "json-duplicate-key": folder("error", "a JSON object has a key twice", "Keep one of the two."),
  "json-too-deep": folder("error", "JSON is nested too deeply", "Flatten it: a campaign needs eight levels."),
  "json-value": folder("error", "JSON holds a number or text that cannot be kept exactly", "Correct the value."),
  "csv-quotes": folder("error", "quotation marks do not pair up", 'Close the quotes; write " inside quotes as "".'),
  "csv-too-wide": folder("error", "a table has more than 1,000 columns", "Check the file and its delimiter."),
  "delimiter-unclear": folder(
    "error",
    "no delimiter, or more than one, fits the header",
    'State it in the resource: "dialect": { "delimiter": ";" }.',
  ),
  "row-ragged": folder("error", "a row has more or fewer cells than the header", "Add or remove cells or delimiters."),
  "column-empty": folder(
    "notice",
    "a column without name and content; it is left out",
    "Remove the delimiters at the ends.",
  ),
  "decimal-mixed": folder(
    "error",
    "decimal points and decimal commas in one table",
    "Use one decimal sign throughout.",
  ),
  "decimal-ambiguous": folder(
    "error",
    "every number with a point or comma could be a decimal or have thousands separators",
    "State the decimal sign in the resource's schema.",
  ),
  "decimal-declared": folder("error", "the fields of one resource state different decimal signs", "State one."),

  "zip-unreadable": zip("a zip file that is damaged, or none", "Zip the folder again, and take over all of the file."),
  "zip-encrypted": zip("a zip file that is protected by a password", "Zip the folder without a password."),
  "zip-too-large": zip(
    "a zip file of more than 64 MiB, or 256 MiB when unpacked, or 1,000 files",
    "Zip the campaign's folder alone, or check that it is the right file.",
  ),
  "zip-path": zip(
    "a file in a zip file whose path leads out of the folder, or means another place on another system",
    "Zip the folder anew: paths in it are relative, with / between names.",
  ),
  "zip-link": zip("a link in a zip file in the place of a file", "Put the file itself into the folder."),
  "zip-twice": zip("a file of the same name twice in a zip file", "Keep one of the two."),

  "workbook-unreadable": workbook(
    "error",
    "a file that is no workbook, is damaged, or has another format than .xlsx",
    "Open it in a spreadsheet program and save it as .xlsx.",
  ),
  "workbook-encrypted": workbook("error", "a workbook that is protected by a password", "Save it without a password."),
  "workbook-macros": workbook(
    "error",
    "a workbook with macros",
    "Save it as .xlsx, which holds none; look first what they do.",
  ),
  "workbook-too-large": workbook(
    "error",
    "a workbook of more than 64 MiB, or 256 MiB when unpacked, or 100 sheets",
    "Divide it, or check that it is the right file.",
  ),
  "campaign-sheet-absent": workbook(
    "error",
    "there is no sheet campaign",
    "Add a sheet campaign with keys and values, or begin with `alcedo new --xlsx`.",
  ),
  "sheet-unknown": workbook(
    "notice",
    "a sheet that is no series; it is not read",
    "Call it like a series, if it is one.",
  ),
  "sheet-misspelt": workbook(
    "error",
    "a sheet whose name is very like that of a series without a sheet",
    "Correct the name.",
  ),
  "sheet-hidden": workbook("notice", "a hidden sheet of a series; it is read", "Unhide it, to see what is evaluated."),
  "sheet-too-wide": workbook(
    "error",
    "a sheet with more than 1,000 columns",
    "Check the sheet, and empty stray cells.",
  ),
  "key-unnamed": workbook("error", "a value without a key", "Name the key, or empty the value."),
  "key-duplicate": workbook("error", "a key that is there twice", "Keep one of the two."),
  "value-converted": workbook(
    "notice",
    "the value of a key was read as another type",
    "Nothing needs to be done, if that is meant.",
  ),
  "header-understood": workbook(
    "notice",
    "headers in other words are read as columns",
    "Nothing needs to be done, if these are meant.",
  ),
  "unit-converted": workbook(
    "notice",
    "numbers in another unit are converted",
    "Nothing needs to be done, if that is the unit.",
  ),
  "unit-missing": workbook(
    "error",
    "a header without the unit that its column has in its name",
    "State the unit in the header.",
  ),
  "unit-unsupported": workbook("error", "a unit that is not converted", "Convert the numbers, and correct the header."),
  "rows-above-header": workbook("notice", "rows above the header; they are not read", "Nothing needs to be done."),
  "cells-merged": workbook(
    "error",
    "merged cells among the readings: all but the first are empty",
    "Unmerge them, and fill in every cell.",
  ),
  "row-hidden": workbook(
    "notice",
    "hidden rows or columns; they are read all the same",
    "Unhide them, or give a reason in the column exclude to leave readings out.",
  ),
  "formula-value": workbook(
    "notice",
    "a formula; the value that the spreadsheet stored is taken",
    "Check that the spreadsheet had computed it; or paste the values over the formulas.",
  ),
  "formula-uncomputed": workbook(
    "error",
    "a formula without a stored value",
    "Open and save the workbook in a spreadsheet program, or paste values over the formulas.",
  ),
  "cell-error": workbook("error", "a cell with an error, such as #DIV/0!", "Correct the formula, or empty the cell."),
  "cell-date": workbook(
    "error",
    "a number or text that the spreadsheet turned into a date",
    "Format the cells as text, and type again what was meant.",
  ),
  "time-converted": workbook(
    "notice",
    "times stored as dates are read with the offset of the header",
    "Nothing needs to be done, if that is the offset.",
  ),
  "time-without-offset": workbook(
    "error",
    "times stored as dates, which have no offset from UTC",
    "Write the offset in the header: time (+01:00).",
  ),
  "percent-converted": workbook(
    "notice",
    "cells formatted as percentages: 0.7 % is stored as 0.007 and read as 0.7",
    "Nothing needs to be done, if that is meant.",
  ),

  "key-unknown": descriptor("error", "a key that the format does not know", "Correct or remove the key."),
  "key-missing": descriptor("error", "a needed key is not there", "Add it."),
  "value-type": descriptor("error", "a value of the wrong type", "Write a value of the type that is named."),
  "value-choice": descriptor(
    "error",
    "a value that is none of the possible ones",
    "Write one of those that are named.",
  ),
  "value-range": descriptor("error", "a value outside what is possible", "Check the unit and the decimal point."),
  "value-form": descriptor("error", "a text or list of the wrong form or length", "Write it as described."),
  "version-unsupported": descriptor("error", "another version of the format", "Use version 1, or a newer alcedo."),
  "energy-unit": descriptor(
    "error",
    "the energy's key does not fit the modality",
    "Photons: energy_MV; electrons: energy_MeV.",
  ),
  "path-outside": descriptor(
    "error",
    "a path that is not inside the folder",
    'Write a relative path, with / between its parts and no part "..".',
  ),
  "resource-duplicate": descriptor("error", "two resources with one name or path", "Give each its own."),
  "series-duplicate": descriptor(
    "error",
    "two resources of one series",
    "Put all readings of a series into one table.",
  ),
  "series-conflict": descriptor(
    "error",
    "a separation of the campaign's own and a characterisation from another day",
    "Keep one of the two: only one stem ratio can be in force.",
  ),
  "channel-duplicate": descriptor("error", "two channels of one name", "Give each channel its own name."),
  "channel-renamed": descriptor(
    "notice",
    "a channel's name that does not fit was changed",
    "Use a-z, 0-9, point, hyphen.",
  ),

  "table-absent": table("error", "a resource without its table", "Add the table."),
  "table-empty": table("error", "a table without readings", "Add readings, or remove the resource."),
  "table-too-long": table(
    "error",
    "a table with more than 100,000 rows",
    "Divide it, or check that it is the right file.",
  ),
  "column-missing": table("error", "a needed column is not there", "Add the column."),
  "column-misspelt": table("error", "an unknown column very like a needed one that is missing", "Correct the name."),
  "column-doubtful": table(
    "warning",
    "an unknown column very like an optional one; it is not evaluated",
    "Correct the name.",
  ),
  "column-unknown": table(
    "notice",
    "an unknown column; it is kept but not evaluated",
    "Correct the name, if it is one.",
  ),
  "column-duplicate": table("error", "two columns of one name", "Rename or remove one."),
  "column-unnamed": table("error", "a column with content but without a name", "Name the column."),
  "channel-unknown": table(
    "error",
    "a signal column of a channel that the detector does not have",
    "Correct the channel.",
  ),
  "column-partial": table("error", "a column that is filled in for some readings only", "Fill in all cells, or none."),
  "row-blank": table("notice", "rows without any content; they are skipped", "Nothing needs to be done."),
  "cell-missing": table("error", "a needed cell is empty", "Fill in the cell, or give a reason in the column exclude."),
  "number-malformed": table("error", "a cell that is not a number", "Write a plain number."),
  "number-not-finite": table(
    "error",
    "NaN, infinity, or a number beyond what can be held",
    "Measure again or exclude it.",
  ),
  "number-range": table("error", "a number outside what is possible", "Check the unit and the decimal sign."),
  "choice-unknown": table("error", "a word that is none of the possible ones", "Write one of those that are named."),
  "time-malformed": table(
    "error",
    "a time that is not ISO 8601 with offset",
    "Write it like 2026-03-14T09:26:53+01:00.",
  ),
  "reading-duplicate": table("error", "two readings with one id", "Give each reading its own id."),
  "reference-duplicate": table("error", "two reference values for one condition and source", "Keep one of them."),
  "correction-duplicate": table("error", "two output corrections for one equivalent square", "Keep one of them."),
  "correction-disagrees": table(
    "error",
    "output corrections of which some hold volume averaging and others do not",
    "Write the same in every row of volume_averaging, and leave out the others.",
  ),
  "name-renamed": table(
    "notice",
    "a condition's name that does not fit was changed",
    "Use a-z, 0-9, point and hyphen to choose it yourself.",
  ),
  "name-unusable": table("error", "a condition's name of which nothing can be kept", "Use a-z, 0-9, point, hyphen."),
  "name-collision": table("error", "two conditions whose names become one", "Rename one of them."),
  "condition-disagrees": table(
    "error",
    "rows of one condition that describe it differently",
    "Make the rows agree, or give one of them another condition.",
  ),
  "dose-partial": table("error", "a dose given for part of one dose group", "Give the dose in every row of the group."),
  "group-disagrees": table(
    "error",
    "rows of one dose group with different dose uncertainties",
    "State one uncertainty for the group.",
  ),
  "shape-size": table(
    "error",
    "sizes that do not fit the field's shape",
    "Rectangle: x_mm, y_mm. Circle: diameter_mm.",
  ),
  "pair-incomplete": table("error", "a cell that needs its companion", "Fill in both, or neither."),
  "excluded-unreadable": table(
    "notice",
    "an excluded reading with cells that cannot be read",
    "Nothing needs to be done.",
  ),
  "more-errors": table("error", "more errors of one table than are listed", "Mend those listed, then look again."),
  "more-notices": table("notice", "more notices of one table than are listed", "Mend those listed, then look again."),
} as const satisfies Record<string, StructureRule>;

/** The code of a rule about the form of a campaign. */
export type StructureCode = keyof typeof STRUCTURE_CODES;
