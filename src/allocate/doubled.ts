/** Names of a request that stand for two things at once, where a reference could mean either. */
import type { RequestPath } from './refusal.js';
import type { RawRequest } from './request.js';

interface Named {
  readonly name: string;
}

/** Those of areas, formats and kinds, and of what a kind has; the others are told where they are read. */
export function* doubledNames(
  request: RawRequest,
): Iterable<{ readonly at: RequestPath; readonly wanted: string; readonly name: string }> {
  const again = function* (list: readonly Named[] | undefined, path: RequestPath, wanted: string) {
    const seen = new Set<string>();
    for (const [index, { name }] of (list ?? []).entries()) {
      if (seen.has(name)) yield { at: [...path, index, 'name'], wanted, name };
      seen.add(name);
    }
  };
  yield* again(request.areas, ['areas'], 'areas');
  yield* again(request.formats, ['formats'], 'formats');
  yield* again(request.kinds, ['kinds'], 'kinds');
  for (const [index, kind] of request.kinds.entries())
    for (const part of ['interfaces', 'senders', 'receivers'] as const)
      yield* again(kind[part], ['kinds', index, part], `${part} of kind \`${kind.name}\` called`);
}
