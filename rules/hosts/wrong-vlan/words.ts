import {
  agree,
  counted,
  entityLabel,
  listNames,
  portLabel,
  portsBySwitch,
  withId,
  type FindingWords,
  type Interface,
  type NonEmpty,
  type Port,
  type Vlan,
} from '../../../src/doors/rule.js';

export interface Facts {
  /** The kind that writes it for its devices; undefined where the device does. */
  readonly kind: string | undefined;
  /** Of the interface. */
  readonly name: string;
  /** As written. */
  readonly vlan: Vlan;
  /** What ports and addresses say. */
  readonly home: Vlan;
  readonly interfaces: NonEmpty<Interface>;
  /** How many have their VLAN from this line. */
  readonly users: number;
  readonly ports: readonly Port[];
  /** How many have an address of the other VLAN. */
  readonly addressed: number;
}

export interface Note {
  readonly vlan: Vlan;
}

export function words({ kind, name, vlan, home, interfaces, users, ports, addressed }: Facts): FindingWords<Note> {
  const [port, ...more] = ports;
  const count = interfaces.length;
  const names = listNames(interfaces.map(entityLabel));
  const whose = count === users ? counted(count, 'device') : `${count} of ${counted(users, 'device')}`;
  const who =
    kind === undefined
      ? `${names} is written in VLAN ${withId(vlan)}`
      : `kind ${kind} puts ${name} of ${whose} in VLAN ${withId(vlan)}`;
  const says = [
    ...(addressed === 0 ? [] : [kind === undefined ? 'its address' : counted(addressed, 'address', 'addresses')]),
    ...(ports.length === 0
      ? []
      : [
          `${agree(ports.length, 'port')} ${port === undefined || more.length > 0 ? listNames(portsBySwitch(ports)) : portLabel(port)}`,
        ]),
  ];
  const one = addressed + ports.length === 1;
  return {
    what: `${who}, but ${says.join(' and ')} ${one ? 'belongs' : 'belong'} to VLAN ${withId(home)}${kind === undefined ? '' : `: ${names}`}`,
    onAir: `ports set up as the VLAN is written cut ${agree(count, 'it', 'them')} off: no stream of ${home.name} comes there${addressed === 0 ? '' : `, and to addresses of ${home.name} nothing in ${vlan.name} answers by unicast`}`,
    fix: `write ${home.name}${kind === undefined ? '' : ` in kind ${kind}, once for all`}; if ${vlan.name} is right, give ${agree(count, 'it', 'them')} addresses and ports of ${vlan.name}`,
    brief: `written in ${vlan.name}, belongs to ${home.name}`,
    label: (label, note) => `${label}: in VLAN ${note.vlan.name}`,
  };
}
