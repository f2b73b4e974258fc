import type { Result } from "@alcedo-dosimetry/campaign";
import { type ResultTable, textField } from "./result-table.ts";

/** What was noticed, errors first. */
export function findingsTable({ findings }: Result): ResultTable {
  return {
    name: "findings",
    title: "What was noticed",
    fields: [
      textField("level", "error: no result; warning: a result, but look; notice"),
      textField("code", "name of the rule, stable"),
      textField("message", "what is wrong, and where"),
      textField("effect", "what it does to the results"),
      textField("remedy", "how to mend it"),
      textField("series", "series that it is about"),
      textField("condition", "condition that it is about"),
      textField("reading", "reading that it is about"),
      textField("column", "column of the table"),
      textField("file", "file of the campaign folder"),
      textField("sheet", "sheet, where the campaign came from a workbook"),
      { name: "row", type: "integer", description: "row of the table, the header not counted" },
      { name: "line", type: "integer", description: "line of the file, or row of the sheet, from 1" },
    ],
    rows: findings.map(({ level, code, message, effect, remedy, where = {} }) => [
      level,
      code,
      message,
      effect ?? null,
      remedy ?? null,
      where.series ?? null,
      where.condition ?? null,
      where.reading ?? null,
      where.column ?? null,
      where.file ?? null,
      where.sheet ?? null,
      where.row ?? null,
      where.line ?? null,
    ]),
  };
}

/** The stages with their standings. */
export function stagesTable({ stages }: Result): ResultTable {
  return {
    name: "stages",
    title: "Standing of every stage",
    fields: [
      textField("stage", "stage of the chain"),
      textField("standing", "sound, untested, stale or broken"),
      textField("reason", "why"),
    ],
    rows: stages.map(({ id, standing, reason }) => [id, standing, reason]),
  };
}
