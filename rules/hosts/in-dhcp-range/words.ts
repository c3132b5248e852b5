import { agree, listNames, type FindingWords, type HeldFact } from '../../../src/doors/rule.js';

export interface Facts {
  /** With its rig where addresses of other rigs are concerned. */
  readonly vlan: string;
  readonly range: string;
  /** Fixed addresses in the range: of boxes, gateways and queriers. */
  readonly fixed: readonly HeldFact[];
  /** Some are of another rig. */
  readonly abroad: boolean;
  /** A range without them. */
  readonly apart: string | undefined;
  /** An address outside the range, where only one has to move. */
  readonly free: string | undefined;
}

export type Note = { readonly says: 'range' } | { readonly says: 'address'; readonly address: string };

export function words({ vlan, range, fixed, abroad, apart, free }: Facts): FindingWords<Note> {
  const count = fixed.length;
  const names = listNames(fixed.map(({ address, holder }) => `${address} (${holder})`));
  return {
    what: `DHCP in VLAN ${vlan} hands out ${range}, which holds ${agree(count, 'the fixed address', `${count} fixed addresses:`)} ${names}`,
    onAir:
      'the server gives the address to another box while this one is off: once both are on, each drops out for moments at a time',
    fix: [
      ...(apart === undefined ? [] : [`let DHCP hand out ${apart} only`]),
      `${apart === undefined ? '' : 'or '}move the fixed ${agree(count, 'address')} out of the range${free === undefined ? '' : `, to ${free}`}`,
      ...(abroad ? ['or switch this server off while the rigs are joined'] : []),
    ].join(', '),
    label: (name, note) => (note.says === 'range' ? `${name} hands out ${range}` : `${name}: ${note.address}`),
  };
}
