import type { FindingWords } from '../../../src/doors/rule.js';

export interface Facts {
  readonly kind: string;
}

export function words({ kind }: Facts): FindingWords<never> {
  return {
    what: `no device is of kind ${kind}`,
    onAir:
      'nothing by itself; where a device should be of this kind and does not say so, its interfaces and streams are not in the plan',
    fix: 'write `kind` in the devices that are of it, or take the kind out',
  };
}
