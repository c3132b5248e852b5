/** The switch ports: how each is set up and what is plugged into it. */
import { append } from '../../collections/group-by.js';
import { linkLabel, portLabel, tagged, untagged } from '../../model/vlans/index.js';
import type { Table } from '../../page/page.js';
import type { Plan, Port, Vlan } from '../../plan/types.js';
import { vlanWords } from '../../words/network.js';
import { gigabits, namesCell, rigColumn } from './cells.js';
import { sheetTable, type SheetColumn } from './sheet.js';

/** One row a port of a switch; undefined for a plan without any. */
export function portSheet(plan: Plan): Table | undefined {
  const others = otherEnds(plan);
  const columns: readonly SheetColumn<Port>[] = [
    rigColumn(plan, (port) => port.switch.rig),
    { heading: 'switch', cell: (port) => port.switch.name },
    { heading: 'port', cell: ({ name }) => name },
    { heading: 'rate Gbit/s', cell: ({ rateBps }) => gigabits(rateBps) },
    { heading: 'mode', cell: modeOf },
    { heading: 'VLAN untagged', cell: (port) => vlanCell(untagged(port)) },
    { heading: 'VLANs tagged', cell: (port) => (port.trunk === 'all' ? 'all' : taggedCell(tagged(port))) },
    { heading: 'other end', cell: (port) => namesCell(others.get(port) ?? []) },
  ];
  return sheetTable(
    plan.switches.flatMap((one) => [...one.ports.values()]),
    columns,
    [(port) => port.switch.rig.name, (port) => port.switch.name, ({ name }) => name],
  );
}

function modeOf({ access, trunk, native }: Port): 'access' | 'trunk' | undefined {
  if (trunk !== undefined || native !== undefined) return 'trunk';
  return access === undefined ? undefined : 'access';
}

function vlanCell(vlan: Vlan | undefined): string | undefined {
  return vlan === undefined ? undefined : vlanWords(vlan);
}

/** All of them, for a port that lacks one is a fault: by id, as switches show them. */
function taggedCell(vlans: readonly Vlan[]): string {
  return [...new Set(vlans)]
    .sort((a, b) => (a.id ?? Infinity) - (b.id ?? Infinity) || (a.name < b.name ? -1 : 1))
    .map(vlanWords)
    .join(', ');
}

function otherEnds(plan: Plan): ReadonlyMap<Port, readonly string[]> {
  const found = new Map<Port, [string, ...string[]]>();
  const add = (port: Port | undefined, text: string): void => {
    if (port !== undefined) append(found, port, text);
  };
  for (const { device, name, port } of plan.interfaces) add(port, `${device.name} ${name}`);
  for (const link of plan.links) {
    const [a, b] = link.ends;
    const words = link.name === undefined ? '' : ` by link ${linkLabel(link)}`;
    add(a.port, `${endLabel(b)}${words}`);
    add(b.port, `${endLabel(a)}${words}`);
  }
  return found;
}

function endLabel({ port, text }: { readonly port: Port | undefined; readonly text: string }): string {
  return port === undefined ? text : portLabel(port);
}
