/** Names of losses, as people ask for them. */

/** Whether `red-core`, `switch red-core` or `clock-201:reference` means this one; a reference never goes by its clock's name alone. */
export function isAskedFor(asked: string, { kind, name }: { readonly kind: string; readonly name: string }): boolean {
  return kind === 'reference' ? asked === referenceName(name) : asked === name || asked === `${kind} ${name}`;
}

/** What a clock is locked to: `clock-201:reference`. */
export function referenceName(clock: string): string {
  return `${clock}:reference`;
}
