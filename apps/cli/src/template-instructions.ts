import { type Column, columnsOf } from "@alcedo-dosimetry/campaign";
import type { TemplateNames } from "./template-descriptor.ts";
import type { TemplateSeries } from "./template-series.ts";
import { templateColumns, templateSeries } from "./template-tables.ts";
import { wrap, wrapBehind } from "./wrap.ts";

const WIDTH = 100;

/** What is said in front of the tables: how to fill the folder in, in order. */
function steps(names: TemplateNames): string[] {
  const replace = names.example
    ? 'The readings in the tables are invented, so that `alcedo evaluate` shows at once what a result looks like. Delete them as you fill in your own, and when none is left take "example" and "invented" out of `keywords` in datapackage.json, and the remark out of its title.'
    : "The tables have their headers and no readings yet.";
  const net = names.background
    ? []
    : [
        "This campaign has no background series: the readings that you type are net, their background already taken away.",
      ];
  return [
    `In datapackage.json say what was used: detector (channels in the order rich in scintillation, rich in stem light; active volume; signalUnit) and beam. Below stand the assumptions; each is a default until you know better. A name that ends in _u_ and a unit is a standard uncertainty.`,
    "Deliver the series below in their order and type one row per reading. Rows of one condition are repeats. Nothing is ever deleted: give the reason in `exclude`, and a reading is left out.",
    "Run `alcedo check` on the folder: it names every fault of form with row and column. Then run `alcedo evaluate`.",
    replace,
    ...net,
  ];
}

/** README.md of a new campaign folder: what to deliver, in order, and every column explained. */
export function templateInstructions(names: TemplateNames): string {
  const lines = [
    `# ${names.title}`,
    "",
    ...steps(names).flatMap((step, i) => wrapBehind(`${i + 1}. `, step, WIDTH)),
    "",
    ...wrap(
      "Decimal point or decimal comma, comma, semicolon or tab between the cells: each table may be saved as your spreadsheet does it, as long as it is CSV in UTF-8. Units stand in the columns' names.",
      WIDTH,
    ),
    "",
    ...commonLines(names),
    "",
    ...templateSeries(names).flatMap((series) => [...seriesLines(series, names), ""]),
    "## Before you use a result",
    "",
    ...wrap(
      "Alcedo is a research and quality-assurance aid, not a medical device; for use by a qualified medical physicist. Check independently before clinical use. Local codes, licences and your facility's own protocol come first. Keep patient data out of this folder.",
      WIDTH,
    ),
  ];
  return `${lines.join("\n")}\n`;
}

/** Columns that every table has or may have. */
function commonLines(names: TemplateNames): string[] {
  return [
    "## Columns of every table",
    "",
    ...columnTable(commonColumns(names)),
    "",
    ...wrap(
      "Give `time`, `mu` and `monitor` in all rows of a table or in none. Readings are compared with each other by `monitor` where it is there, else by `mu`.",
      WIDTH,
    ),
  ];
}

function commonColumns(names: TemplateNames): readonly Column[] {
  const [first, ...others] = (["separation", "calibration", "output-factors"] as const).map((series) =>
    possibleColumns(series, names),
  );
  return first!.filter(({ name }) => others.every((columns) => columns.some((column) => column.name === name)));
}

/** The columns that a series may have in this campaign; without background readings their time is not asked for. */
function possibleColumns(series: TemplateSeries["series"], { channels, background }: TemplateNames): readonly Column[] {
  return columnsOf(series, channels).filter(({ needed }) => background || needed !== "with-background");
}

function seriesLines(series: TemplateSeries, names: TemplateNames): string[] {
  const common = commonColumns(names).map(({ name }) => name);
  const own = possibleColumns(series.series, names).filter(({ name }) => !common.includes(name));
  const written = templateColumns(series, names);
  const optional = own.filter(({ name }) => !written.includes(name)).map(({ name }) => `\`${name}\``);
  return [
    `## ${series.title}`,
    "",
    `File: \`${series.series}.csv\``,
    "",
    ...series.deliver.flatMap((item) => wrapBehind("- ", item, WIDTH)),
    ...(own.length > 0 ? ["", ...columnTable(own)] : []),
    ...(optional.length > 0
      ? ["", ...wrap(`Not in the table yet; add them where you need them: ${optional.join(", ")}.`, WIDTH)]
      : []),
  ];
}

function columnTable(columns: readonly Column[]): string[] {
  return [
    "| column | unit | needed | meaning |",
    "|---|---|---|---|",
    ...columns.map(({ name, unit, needed, meaning, choices }) => {
      const words = choices ? `\`${choices.join("` or `")}\`: ${meaning}` : meaning;
      return `| \`${name}\` | ${unit ?? ""} | ${needed === "no" ? "" : "yes"} | ${words} |`;
    }),
  ];
}
