import "./bar.css";

/** What a share of a whole is made of. */
export interface BarProps {
  /** From 0 to 1; what is less is drawn as nothing, what is more as the whole. */
  readonly share: number;
  /** Asks to be looked at: the largest. */
  readonly first?: boolean;
}

/** A share as a length. The number must stand beside it: the bar is silent. */
export function Bar({ share, first = false }: BarProps) {
  const part = Math.min(1, Math.max(0, share));
  return (
    <svg className="bar" viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true">
      <rect className="bar-whole" width="100" height="8" />
      <rect className={first ? "bar-part bar-first" : "bar-part"} width={100 * part} height="8" />
    </svg>
  );
}
