/** An output factor of a class of machines: mean and standard deviation over many of them. */
interface PublishedOutputFactor {
  /** Side of the square field in mm. */
  readonly side_mm: number;
  /** Relative to the field of 100 mm × 100 mm. */
  readonly mean: number;
  /** Standard deviation over machines, not of the mean. */
  readonly sd: number;
}

/** Output factors of one class of machines, from the largest field to the smallest. */
export interface PublishedOutputFactors {
  readonly machineClass: "A" | "B";
  readonly energy: string;
  readonly depth_mm: number;
  readonly fields: readonly PublishedOutputFactor[];
  readonly source: string;
}

const SOURCE = "Followill et al., J. Appl. Clin. Med. Phys. 13(5), 282 (2012), Tables 2 and 3";

/**
 * Output factors at 10 cm depth and 6 MV of two classes of machines. Good to see a blunder by; no target for one
 * machine, which may well differ by more than the standard deviation.
 */
export const PUBLISHED_OUTPUT_FACTORS: readonly PublishedOutputFactors[] = [
  {
    machineClass: "A",
    energy: "6 MV",
    depth_mm: 100,
    fields: [
      { side_mm: 60, mean: 0.93, sd: 0.01 },
      { side_mm: 40, mean: 0.878, sd: 0.015 },
      { side_mm: 30, mean: 0.842, sd: 0.012 },
      { side_mm: 20, mean: 0.79, sd: 0.007 },
    ],
    source: SOURCE,
  },
  {
    machineClass: "B",
    energy: "6 MV",
    depth_mm: 100,
    fields: [
      { side_mm: 60, mean: 0.914, sd: 0.008 },
      { side_mm: 40, mean: 0.855, sd: 0.01 },
      { side_mm: 30, mean: 0.82, sd: 0.008 },
      { side_mm: 20, mean: 0.764, sd: 0.01 },
    ],
    source: SOURCE,
  },
];
