/** Names of conditions and channels: they become parts of result ids, such as `output-factor.10x10`. */
export const NAME_PATTERN = /^[a-z0-9][a-z0-9x.-]*$/;

/**
 * Makes a name that fits {@link NAME_PATTERN}: `×` becomes `x`, capitals become small letters, blanks and every other
 * character become one hyphen; hyphens and points at the front and hyphens at the end fall away. `10 × 10` → `10x10`.
 *
 * @returns the name, unchanged when it fits already; empty when nothing of it can be kept
 */
export function fittingName(text: string): string {
  const name = text.trim();
  if (NAME_PATTERN.test(name)) return name;
  return name
    .replace(/\s*[×✕]\s*/g, "x")
    .toLowerCase()
    .replace(/[^a-z0-9.-]+/g, "-")
    .replace(/-{2,}/g, "-")
    .replace(/^[.-]+|-+$/g, "");
}
