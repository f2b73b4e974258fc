import { type Figure, svgText, type Theme } from "@alcedo-dosimetry/figures";
import { figuresOf } from "@alcedo-dosimetry/report";
import { refuse } from "./evaluate-command.ts";
import { nearestIds } from "./nearest-ids.ts";
import { evaluateFolder } from "./open-campaign.ts";
import { printable } from "./printable.ts";
import { shellWord } from "./shell-word.ts";
import { layTable } from "./table.ts";
import type { World } from "./world.ts";
import { wrap } from "./wrap.ts";
import { writeNewFile } from "./write-new-file.ts";

/** What `alcedo figure` may be told. */
export interface FigureOptions {
  readonly theme: Theme;
  readonly out?: string;
}

/** `alcedo figure`: one picture of an evaluation as SVG; without an id, the pictures that there are. */
export async function figureCommand(
  folder: string,
  id: string | undefined,
  { theme, out }: FigureOptions,
  world: World,
): Promise<0 | 2> {
  const refused = (message: string, ...more: readonly string[]): 2 => {
    world.errors.print([...wrap(`alcedo figure: ${message}`, world.errors.width), ...more]);
    return 2;
  };
  if (id === undefined && out !== undefined) return refused("--out needs the ID of the figure that is to be written.");
  const opened = await evaluateFolder(folder);
  if ("none" in opened) {
    refuse(folder, opened.none.findings, world.errors);
    return 2;
  }
  const figures = figuresOf(opened.campaign, opened.evaluation);
  if (id === undefined) {
    world.page.print(listLines(figures, folder, world));
    return 0;
  }
  const figure = figures.find((own) => own.id === id);
  if (!figure) {
    const nearest = nearestIds(
      id,
      figures.map((own) => own.id),
    );
    return refused(
      `${printable(folder)} has no figure ${printable(id)}.`,
      ...(nearest.length > 0 ? [`Near it: ${nearest.join(", ")}`] : []),
      `All of them: alcedo figure ${shellWord(folder)}`,
    );
  }
  const text = svgText(figure, theme);
  if (out === undefined) {
    world.stdout.write(text);
    return 0;
  }
  const reason = writeNewFile(out, text, "there");
  if (reason !== undefined) return refused(reason);
  world.page.print(wrap(`${printable(out)}: ${figure.title}`, world.page.width));
  return 0;
}

function listLines(figures: readonly Figure[], folder: string, { page: { width, ink } }: World): string[] {
  if (figures.length === 0) return wrap(`${printable(folder)}: nothing of its evaluation can be drawn.`, width);
  const columns = [{ head: "id" }, { head: "what it shows", flexible: true, optional: true, least: 30 }];
  const rows = figures.map(({ id, title }) => [id, title]);
  return [...layTable(columns, rows, width, ink.dim).lines];
}
