import type { ReactNode } from "react";
import "./empty.css";

/** What stands where there is nothing yet. */
export interface EmptyProps {
  readonly title: string;
  /** What will be here, and how it comes. */
  readonly children: ReactNode;
}

/** A place where nothing is yet, with what to do about it. */
export function Empty({ title, children }: EmptyProps) {
  return (
    <section className="empty">
      <h2>{title}</h2>
      {children}
    </section>
  );
}
