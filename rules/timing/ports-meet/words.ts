import { listNames, type FindingWords } from '../../../src/doors/rule.js';

export interface Facts {
  readonly clock: string;
  /** Three or more. */
  readonly ports: readonly string[];
  /** The segment, as people call it. */
  readonly where: string;
}

export function words({ clock, ports, where }: Facts): FindingWords<'meets'> {
  return {
    what: `the PTP ports ${listNames(ports, ports.length)} of ${clock} stand on one segment (${where})`,
    onAir: `one of them serves, and the others hear ${clock} itself and stay passive: where they are meant as separate ways to the time, all are lost together with that segment`,
    fix: 'put the ports on segments of their own, or list in `ptp: {interfaces: […]}` the one that is to speak PTP',
    label: (name) => `${name}: its ports meet`,
  };
}
