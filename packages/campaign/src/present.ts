/** The same properties, with those that may be `undefined` made optional. */
export type Present<T> = {
  [K in keyof T as undefined extends T[K] ? never : K]: T[K];
} & {
  [K in keyof T as undefined extends T[K] ? K : never]?: Exclude<T[K], undefined>;
};

/** A copy without the properties whose value is `undefined`: missing is absent, never a placeholder. */
export function present<T extends object>(properties: T): Present<T> {
  const kept: Record<string, unknown> = {};
  for (const key of Object.keys(properties)) {
    const value = (properties as Record<string, unknown>)[key];
    if (value !== undefined) kept[key] = value;
  }
  return kept as Present<T>;
}
