import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { alcedo } from "./console.ts";

/** Net signals of the exact set in nC, first and second channel. */
export interface ExactSet {
  readonly little: readonly [number, number];
  readonly much: readonly [number, number];
  /** Kept aside: 20 cm and 60 cm of fibre. */
  readonly verify: boolean;
}

/**
 * The exact set (computed from a model with exact rationals, C): little fibre 6.5/3.5, much fibre 17/17.5, 20 cm 11/9.5, 60 cm
 * 23/25.5, each 1 Gy; small field 3.27/1.26 at 0.60 Gy. In nC, stem light of ratio 0.75.
 */
export const EXACT: ExactSet = { little: [6.5, 3.5], much: [17, 17.5], verify: true };

const HALF = [11, 9.5] as const;
const BEYOND = [23, 25.5] as const;
const SMALL = [3.27, 1.26] as const;

type Condition = readonly [name: string, signals: readonly [number, number], cells: string];

/** Makes a folder with `alcedo new --no-background` and types the exact set over the example: three repeats, four decimals. */
export async function exactFolder(folder: string, { little, much, verify }: ExactSet, swapped = false): Promise<void> {
  const { status, err } = await alcedo(["new", folder, "--no-background", "--empty"]);
  if (status !== 0) throw new Error(err);
  const write = (file: string, columns: string, conditions: readonly Condition[]) => {
    let number = 0;
    const rows = conditions.flatMap(([name, signals, cells]) =>
      [0, 1, 2].map(() => {
        const [blue, green] = swapped ? [signals[1], signals[0]] : signals;
        return `r${++number},${name},100,${blue.toFixed(4)},${green.toFixed(4)},${cells}`;
      }),
    );
    const header = `reading,condition,mu,signal_blue,signal_green,${columns}`;
    writeFileSync(join(folder, file), `${[header, ...rows].join("\n")}\n`);
  };
  write("separation.csv", "dose_group,role,fibre_mm", [
    ["little", little, "a,fit,50"],
    ["much", much, "a,fit,400"],
    ...(verify
      ? ([
          ["half", HALF, "a,verify,200"],
          ["beyond", BEYOND, "a,verify,600"],
        ] as const)
      : []),
  ]);
  write("calibration.csv", "dose_Gy,dose_u_percent", [["reference", EXACT.little, "1.0000,0.5"]]);
  write("output-factors.csv", "role,shape,x_mm,y_mm,diameter_mm", [
    ["100x100", EXACT.little, "reference,rectangle,100,100,"],
    ["small", SMALL, "field,circle,,,15"],
  ]);
}
