import {
  agree,
  entityLabel,
  listNames,
  portLabel,
  withId,
  type FindingWords,
  type Interface,
  type Port,
  type Vlan,
} from '../../../src/doors/rule.js';

/** The one VLAN of a port, or names of those it carries as a trunk. */
export type Carries = { readonly access: Vlan } | { readonly trunkOf: readonly string[] };

export interface Facts {
  readonly interfaces: readonly Interface[];
  /** Where they are planned. */
  readonly vlan: Vlan;
  readonly ports: readonly string[];
  readonly carries: Carries;
  /** The ports are trunks. */
  readonly trunk: boolean;
  /** A free port of the VLAN for each interface, or none. */
  readonly free: readonly Port[];
}

export type Note = { readonly vlan: Vlan } | { readonly ports: readonly string[]; readonly carries: Carries };

export function words({ interfaces, vlan, ports, carries, trunk, free }: Facts): FindingWords<Note> {
  const count = interfaces.length;
  const names = listNames(interfaces.map(entityLabel));
  const on = listNames(ports);
  const such = free.length === 0 ? '' : `, such as ${listNames(free.map(portLabel))}, free in this plan`;
  const other = trunk
    ? `add it to the trunk on ${on}`
    : `make ${on} ${agree(ports.length, 'an access port', 'access ports')} of it`;
  return {
    what: `${names} ${agree(count, 'is', 'are')} planned in VLAN ${withId(vlan)}, but ${agree(ports.length, 'port')} ${on} ${agree(ports.length, 'is', 'are')} ${carriesWords(carries)}`,
    onAir: `${names} ${agree(count, 'talks', 'talk')} to nobody in ${vlan.name}: nothing sent arrives there and nothing from there is heard, or it lands in the other VLAN`,
    fix: `plug ${agree(count, 'it', 'them')} into a port of ${vlan.name}${such}, or ${other}`,
    label: (name, note) =>
      'vlan' in note
        ? `${name}, in VLAN ${note.vlan.name}`
        : `${note.ports.length === 1 ? name : `ports ${listNames(note.ports)}`}: ${carriesWords(note.carries)}`,
  };
}

function carriesWords(carries: Carries): string {
  if ('access' in carries) return `in VLAN ${carries.access.name}`;
  return carries.trunkOf.length === 0 ? 'without any VLAN' : `a trunk of ${listNames(carries.trunkOf)}`;
}
