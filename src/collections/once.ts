/** Makes a value on first use. */
export function once<T>(build: () => T): () => T {
  let made: { readonly value: T } | undefined;
  return () => (made ??= { value: build() }).value;
}
