/** The host list: every interface of a device and every address of a switch, as somebody types them in. */
import { subnetFor } from '../../model/hosts/index.js';
import { portLabel } from '../../model/vlans/index.js';
import type { Table } from '../../page/page.js';
import type { Interface, Plan, Rig, SwitchAddress, Vlan } from '../../plan/types.js';
import { inPrefix, isIPv4, type Address } from '../../values/address.js';
import { formatMac, type Mac } from '../../values/mac.js';
import { addressCell, addressWithPrefix, gigabits, rigColumn } from './cells.js';
import { sheetTable, type SheetColumn } from './sheet.js';

interface HostRow {
  readonly rig: Rig;
  readonly area: string | undefined;
  readonly device: string;
  readonly kind: string | undefined;
  readonly interface: string | undefined;
  readonly network: string | undefined;
  readonly vlan: Vlan | undefined;
  readonly address: string | undefined;
  readonly address6: string | undefined;
  /** Where the address comes from, when not typed in. */
  readonly dhcp: 'yes' | 'reserved' | undefined;
  readonly gateway: Address | undefined;
  readonly mac: Mac | undefined;
  readonly port: string | undefined;
  readonly rateBps: number | undefined;
}

/** One row an interface, and one an address of a switch; undefined for a plan without any. */
export function hostSheet(plan: Plan): Table | undefined {
  const rows = [
    ...plan.interfaces.map(rowOfInterface),
    ...plan.switches.flatMap((one) => one.addresses.map(rowOfSwitchAddress)),
  ];
  const columns: readonly SheetColumn<HostRow>[] = [
    rigColumn(plan, ({ rig }) => rig),
    { heading: 'area', cell: ({ area }) => area },
    { heading: 'device', cell: ({ device }) => device },
    { heading: 'kind', cell: ({ kind }) => kind },
    { heading: 'interface', cell: (row) => row.interface },
    { heading: 'network', cell: ({ network }) => network },
    { heading: 'VLAN', cell: ({ vlan }) => vlan?.name },
    { heading: 'VLAN id', cell: ({ vlan }) => vlan?.id },
    { heading: 'address', cell: ({ address }) => address },
    { heading: 'IPv6 address', cell: ({ address6 }) => address6, ifFilled: true },
    { heading: 'DHCP', cell: ({ dhcp }) => dhcp },
    { heading: 'gateway', cell: ({ gateway }) => addressCell(gateway) },
    { heading: 'MAC', cell: ({ mac }) => (mac === undefined ? undefined : formatMac(mac)) },
    { heading: 'switch port', cell: ({ port }) => port },
    { heading: 'rate Gbit/s', cell: ({ rateBps }) => gigabits(rateBps) },
  ];
  return sheetTable(rows, columns, [
    ({ rig }) => rig.name,
    ({ area }) => area,
    ({ device }) => device,
    (row) => row.interface,
    ({ vlan }) => vlan?.name,
    ({ address }) => address,
  ]);
}

function rowOfInterface(one: Interface): HostRow {
  const { device, vlan, port, address, address6 } = one;
  return {
    rig: device.rig,
    area: device.area,
    device: device.name,
    kind: device.kind?.name,
    interface: one.name,
    network: one.network?.name,
    vlan,
    address: addressWithPrefix(address, prefixLength(vlan, address, one.prefixLength)),
    address6: addressWithPrefix(address6, prefixLength(vlan, address6, one.prefixLength6)),
    dhcp: one.dhcp ? (address === undefined ? 'yes' : 'reserved') : undefined,
    gateway: one.gateway,
    mac: one.mac,
    port: port === undefined ? undefined : portLabel(port),
    rateBps: one.rateBps,
  };
}

function rowOfSwitchAddress(one: SwitchAddress): HostRow {
  const { address, vlan } = one;
  const text = addressWithPrefix(address, prefixLength(vlan, address, one.prefixLength));
  const version4 = address === undefined || isIPv4(address);
  return {
    rig: one.switch.rig,
    area: one.switch.area,
    device: one.switch.name,
    kind: 'switch',
    interface: undefined,
    network: vlan?.network?.name,
    vlan,
    address: version4 ? text : undefined,
    address6: version4 ? undefined : text,
    dhcp: undefined,
    gateway: undefined,
    mac: one.mac,
    port: undefined,
    rateBps: undefined,
  };
}

/** As stated, else that of the VLAN's subnet the address lies in: whoever sets up the box has to type one. */
function prefixLength(
  vlan: Vlan | undefined,
  address: Address | undefined,
  stated: number | undefined,
): number | undefined {
  if (stated !== undefined || vlan === undefined || address === undefined) return stated;
  const subnet = subnetFor(vlan, address);
  return subnet !== undefined && inPrefix(address, subnet) ? subnet.length : undefined;
}
