import "./key.css";

/** A key of the keyboard, as it is printed on it. */
export function Key({ children }: { readonly children: string }) {
  return <kbd className="key">{children}</kbd>;
}
