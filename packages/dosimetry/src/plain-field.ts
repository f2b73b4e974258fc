import type { VolumePoints } from "./active-volume.ts";
import { type FieldShape, NARROWEST_FWHM } from "./field-model.ts";
import { PROFILES } from "./field-profile.ts";
import { halfWidth } from "./half-width.ts";

/** A field model in plain numbers, for what is held fixed and needs no derivative. */
export interface PlainField {
  readonly shape: FieldShape;
  readonly halfWidths: readonly [number, number];
  readonly sigmas: readonly [number, number];
}

/**
 * The field of these widths with another blur.
 * @param nominal whether the widths are nominal sizes, which are 2a by definition.
 */
export function plainField(
  shape: FieldShape,
  [x, y]: readonly [number, number],
  sigma: number,
  nominal: boolean,
): PlainField {
  const widths = shape === "circle" ? [(x + y) / 2, (x + y) / 2] : [x, y];
  if (nominal) return { shape, halfWidths: [widths[0]! / 2, widths[1]! / 2], sigmas: [sigma, sigma] };
  const along = (width: number) => {
    const blur = Math.min(sigma, width / NARROWEST_FWHM[shape]);
    return { half: blur * halfWidth(shape, width / blur), blur };
  };
  const first = along(widths[0]!);
  const second = widths[1] === widths[0] ? first : along(widths[1]!);
  return { shape, halfWidths: [first.half, second.half], sigmas: [first.blur, second.blur] };
}

/** ⟨D⟩ over the points, moved by (dx, dy), relative to the open field. */
export function averageOf(field: PlainField, points: VolumePoints, dx: number, dy: number): number {
  const { program, scalars } = slotsOf(field);
  const x = points.x.map((own) => own + dx);
  const y = points.y.map((own) => own + dy);
  const r = x.map((own, i) => Math.sqrt(own * own + y[i]! * y[i]!));
  const rows = x.map((_, i) => i);
  const doses = program.evaluate([x, y, r], rows, scalars);
  return points.weights.reduce((total, weight, i) => total + weight * doses[i]!, 0);
}

/** The field as it is on average where the place of the tip is normal with standard uncertainty u along either axis. */
export function plainBlurredBy(field: PlainField, u: number): PlainField {
  const wider = (sigma: number) => Math.sqrt(sigma * sigma + u * u);
  return { ...field, sigmas: [wider(field.sigmas[0]), wider(field.sigmas[1])] };
}

function slotsOf({ shape, halfWidths, sigmas }: PlainField) {
  const program = PROFILES[shape];
  return { program, scalars: shape === "circle" ? [halfWidths[0], sigmas[0]] : [...halfWidths, ...sigmas] };
}
