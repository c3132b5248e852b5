import type { Span } from '../../values/span.js';
import type { When } from './moments.js';

export const AT_ONCE: When = { kind: 'known', fromS: 0, toS: 0, assumed: false };

export function known({ fromS, toS }: Span, assumed = false): When {
  return { kind: 'known', fromS, toS, assumed };
}

/** When all of several have happened. */
export function lastOf(first: When, ...others: readonly When[]): When {
  return others.reduce((found, one) => {
    if (found.kind === 'not known' || one.kind === 'not known') return found.kind === 'not known' ? found : one;
    return {
      kind: 'known',
      fromS: Math.max(found.fromS, one.fromS),
      toS: Math.max(found.toS, one.toS),
      assumed: found.assumed || one.assumed,
    };
  }, first);
}
