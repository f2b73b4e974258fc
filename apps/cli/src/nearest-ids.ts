import { nearestKey } from "@alcedo-dosimetry/campaign";

/** Up to three ids that may have been meant: by their letters, or because they end in the same condition. */
export function nearestIds(id: string, ids: readonly string[]): string[] {
  const found: string[] = [];
  for (let left = [...ids]; found.length < 3; ) {
    const nearest = nearestKey(id, left) ?? left.find((own) => own.endsWith(`.${id}`));
    if (nearest === undefined) return found;
    found.push(nearest);
    left = left.filter((own) => own !== nearest);
  }
  return found;
}
