import { listNames, type FindingWords } from '../../../src/doors/rule.js';

export interface Facts {
  readonly mac: string;
  readonly holders: readonly string[];
  /** False where their networks do not meet. */
  readonly meets: boolean;
  /** Made up, not given by a factory. */
  readonly local: boolean;
}

export function words({ mac, holders, meets, local }: Facts): FindingWords<'read-again'> {
  return {
    what: `MAC ${mac} is on ${listNames(holders)}${meets ? '' : ', in networks that do not meet'}`,
    onAir: meets
      ? 'switches move the MAC from port to port with every frame: each of the boxes loses control, PTP and unicast for moments at a time'
      : 'nothing between the boxes, but one entry is wrong: DHCP reservations, port security and fault finding follow the wrong box',
    fix: local
      ? 'give each its own MAC'
      : 'two interfaces never leave a factory with one MAC: read it off each label and correct the entry that is wrong',
    label: (name) => `${name}: read the MAC off this box again`,
  };
}
