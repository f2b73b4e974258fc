import type { ReactNode } from "react";
import { Button as AriaButton, type ButtonProps as AriaButtonProps } from "react-aria-components";
import "./button.css";

/** What a button is made of. */
export interface ButtonProps extends Omit<AriaButtonProps, "className" | "style" | "children"> {
  /** `main` is what the page is for, once a page; `quiet` has no frame; `plain` is everything else. */
  readonly kind?: "main" | "plain" | "quiet";
  readonly children: ReactNode;
}

/** Something to press. */
export function Button({ kind = "plain", children, ...rest }: ButtonProps) {
  return (
    <AriaButton {...rest} className={`button button-${kind}`}>
      {children}
    </AriaButton>
  );
}
