import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  formatPrefix,
  forwards,
  gatewayFor,
  heldLabel,
  inPrefix,
  inRig,
  isIPv4,
  isLinkLocal,
  listNames,
  mark,
  networkOf,
  ownerLabel,
  routerAddress,
  subnetFor,
  vlanSubject,
  type Address,
  type WordedDraft,
  type Interface,
  type Model,
  type Prefix,
  type Severity,
  type Vlan,
} from '../../../src/lint/rule.js';

type Fault = 'own' | 'outside' | 'unlike';

/** Interfaces of one VLAN with one wrong gateway: one slip, often in a device kind. */
interface Cause {
  readonly gateway: Address;
  readonly vlan: Vlan | undefined;
  readonly interfaces: Interface[];
}

export default defineRule({
  id: 'hosts/gateway-differs',
  summary: 'The gateway of an interface is not the gateway of its VLAN',
  severity: 'error',
  sources: [clause('RFC 1122', '3.3.1.1'), clause('RFC 1122', '3.3.1.2'), clause('RFC 1122', '3.3.1.6')],
  needs: ['hostGateways'],
  *check({ plan, model }) {
    const agreeing = new Map<Vlan, number>();
    const causes = new Map<string, Cause>();
    for (const one of plan.interfaces) {
      const { gateway, vlan } = one;
      if (gateway === undefined || isLinkLocal(gateway)) continue;
      if (vlan !== undefined && gatewayFor(vlan, gateway)?.address === gateway) {
        agreeing.set(vlan, (agreeing.get(vlan) ?? 0) + 1);
      }
      const subnet = subnetOfInterface(one, gateway, model);
      const fault = faultOf(one, gateway, subnet);
      if (fault === undefined) continue;
      const whom = fault === 'own' || vlan === undefined ? ownerLabel(one) : vlan.name;
      const key = `${formatAddress(gateway)} ${whom}${inRig(one.device.rig)}`;
      const cause = causes.get(key);
      if (cause === undefined) causes.set(key, { gateway, vlan, interfaces: [one] });
      else cause.interfaces.push(one);
    }
    for (const cause of causes.values()) {
      const draft = draftOf(cause, agreeing, model);
      if (draft !== undefined) yield draft;
    }
  },
});

function draftOf(cause: Cause, agreeing: ReadonlyMap<Vlan, number>, model: Model): WordedDraft | undefined {
  const { gateway, vlan } = cause;
  const interfaces = byLabel(cause.interfaces, ownerLabel);
  const [first] = interfaces;
  if (first === undefined) return undefined;
  const subnet = subnetOfInterface(first, gateway, model);
  const fault = faultOf(first, gateway, subnet) ?? 'unlike';
  const severity = severityOf(fault, gateway, vlan, model);
  const right = vlan === undefined ? undefined : gatewayFor(vlan, gateway);
  const names = interfaces.map(ownerLabel);
  const text = formatAddress(gateway);
  const alone = fault === 'own' || vlan === undefined;
  const whom = alone ? `on ${ownerLabel(first)}${inRig(first.device.rig)}` : `in ${vlanSubject(vlan)}`;
  const shared = {
    subject: `${text} ${whom}`,
    parties: [...names, ...(vlan === undefined ? [] : [vlan.name])],
    severity,
    what: `gateway ${text} of ${listNames(names)} ${whatIsWrong({ fault, vlan, subnet, right: right?.address, severity, several: names.length > 1 })}`,
    onAir:
      severity === 'warning'
        ? 'the way out depends on a box that is not meant for it: when that is changed or switched off, control from other VLANs fails'
        : 'nothing outside the VLAN can be reached: control and monitoring from other VLANs fail, media inside the VLAN go on',
  };
  const marks = interfaces.map((one) => mark(one, ownerLabel(one), 'gateway'));
  const outvoted = fault === 'unlike' && vlan !== undefined && names.length > Math.max(1, agreeing.get(vlan) ?? 0);
  if (outvoted && right !== undefined) {
    return {
      ...shared,
      at: mark(vlan, `VLAN ${vlan.name}: should this be ${text}?`, right.key),
      others: marks,
      fix: `write ${text} at VLAN ${vlan.name} if the boxes are right; else set them to ${formatAddress(right.address)}`,
      touch: { kind: 'vlan', name: vlan.name },
    };
  }
  const vlanMarks = vlan === undefined || right === undefined ? [] : [mark(vlan, `VLAN ${vlan.name}`, right.key)];
  const router = vlan === undefined || subnet === undefined ? undefined : routerAddress(vlan, subnet, model.addressing);
  const within = subnet === undefined ? '' : ` in ${formatPrefix(subnet)}`;
  return {
    ...shared,
    at: mark(first, `${ownerLabel(first)}: gateway`, 'gateway'),
    others: [...marks.slice(1), ...vlanMarks],
    fix:
      right === undefined
        ? router === undefined
          ? `write a gateway${within}, or none where nothing outside is needed`
          : `write ${formatAddress(router.address)}, which ${heldLabel(router)} holds, or none where nothing outside is needed`
        : `set the gateway to ${formatAddress(right.address)}`,
    touch: { kind: 'device', name: first.device.name },
  };
}

function faultOf(one: Interface, gateway: Address, subnet: Prefix | undefined): Fault | undefined {
  const right = one.vlan === undefined ? undefined : gatewayFor(one.vlan, gateway)?.address;
  if (right === gateway) return undefined; // outside the subnet: subnets/gateway-outside; its own: subnets/gateway-taken
  if (gateway === one.address || gateway === one.address6) return one.device.routes ? undefined : 'own';
  const inside = subnet === undefined || inPrefix(gateway, subnet);
  if (!inside) return 'outside';
  const usable = right !== undefined && (subnet === undefined || inPrefix(right, subnet) || isLinkLocal(right));
  return usable ? 'unlike' : undefined;
}

/** The VLAN's subnet, unless most of its boxes disagree with it; else the interface's own. */
function subnetOfInterface(one: Interface, gateway: Address, model: Model): Prefix | undefined {
  const stated = one.vlan === undefined ? undefined : subnetFor(one.vlan, gateway);
  if (stated !== undefined) return model.addressing.fits.get(stated)?.outvotedBy?.prefix ?? stated;
  for (const [address, length] of [
    [one.address, one.prefixLength],
    [one.address6, one.prefixLength6],
  ] as const) {
    if (address === undefined || length === undefined || isIPv4(address) !== isIPv4(gateway)) continue;
    if (isLinkLocal(address) || length === 128) continue;
    return { address, network: networkOf(address, length), length };
  }
  return undefined;
}

/** Another router of the VLAN is a way out too, only not the one the VLAN names. */
function severityOf(fault: Fault, gateway: Address, vlan: Vlan | undefined, model: Model): Severity {
  const holders = fault === 'unlike' ? (model.owners.byAddress.get(gateway) ?? []) : [];
  return holders.some((owner) => owner.vlan === vlan && forwards(owner)) ? 'warning' : 'error';
}

interface Wrong {
  readonly fault: Fault;
  readonly vlan: Vlan | undefined;
  readonly subnet: Prefix | undefined;
  /** What the VLAN states. */
  readonly right: Address | undefined;
  readonly severity: Severity;
  readonly several: boolean;
}

function whatIsWrong({ fault, vlan, subnet, right, severity, several }: Wrong): string {
  if (fault === 'own') return 'is its own address';
  const known = vlan !== undefined && right !== undefined;
  const theirs = known ? `; that of VLAN ${vlan.name} is ${formatAddress(right)}` : '';
  if (fault === 'unlike') return `is ${severity === 'warning' ? 'another router of the VLAN' : 'wrong'}${theirs}`;
  const which = subnet === undefined ? '' : ` ${formatPrefix(subnet)}`;
  return `is not in ${several ? 'their' : 'its'} subnet${which}${theirs}`;
}
