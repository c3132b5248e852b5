/** Who leads, who could, and who only follows. */
import type { RawPtp, RawTiming } from '../read/raw-plan.js';
import type { Demand, DeviceDemand, KindDemand, SwitchDemand } from './demand.js';

/** PTP domain of ST 2059-2 §5 where the request names none. */
const USUAL_DOMAIN = 127;

/** Values below the default 128 of IEEE 1588-2008 Annex J.3.2: grandmasters before switches before whatever else comes. */
const GRANDMASTER_PRIORITY1 = 10;
const CORE_PRIORITY1 = 100;
const OTHER_PRIORITY1 = 110;

/** What a boundary clock claims that is to lead only as a last resort: the default class (IEEE 1588-2008 §7.6.2.4). */
const LAST_RESORT_CLASS = 248;

/** ST 2059-2:2021: intervals that followers take over within 5 s at; as `timing/failover-slow` has it. */
const INTERVALS = {
  transport: 'udp-ipv4',
  delayMechanism: 'e2e',
  logAnnounceInterval: 0,
  logSyncInterval: -3,
  logMinDelayReqInterval: -3,
  announceReceiptTimeout: 3,
} as const;

export interface Clocks {
  readonly kindPtp: (kind: KindDemand) => RawPtp | undefined;
  readonly devicePtp: (device: DeviceDemand) => RawPtp | undefined;
  readonly switchPtp: (one: SwitchDemand) => RawPtp | undefined;
  readonly timing: RawTiming | undefined;
}

/** The clocks of a rig. What kinds state for themselves stands. */
export function planClocks({ request, lines, devices, switches, networks, byName }: Demand): Clocks {
  const domain = request.clock?.domain ?? request.practice?.ptpDomain ?? USUAL_DOMAIN;
  const named = (request.clock?.grandmasters ?? []).flatMap((name) => byName.get(name) ?? []);
  const others = devices.filter((device) => device.line.kind.raw.ptp?.grandmaster === true && !named.includes(device));
  const leaders = [...named, ...others];
  const rank = new Map(leaders.map((device, index) => [device, index]));
  const takesPart = ({ raw }: KindDemand): boolean => raw.ptp !== undefined && raw.ptp.mode !== 'none';
  const boundaries = switches.filter(({ raw }) => raw.boundary === true);
  const used = [...new Set(lines.map(({ kind }) => kind))].filter(takesPart);
  const present = networks.filter(
    (network) =>
      boundaries.some((one) => one.network === network) ||
      used.some(({ raw, interfaces }) =>
        interfaces.some((end) => end.vlan.network === network && (raw.ptp?.interfaces?.includes(end.raw.name) ?? true)),
      ),
  );
  return {
    kindPtp: (kind) => {
      const { ptp } = kind.raw;
      if (ptp === undefined || ptp.mode === 'none') return ptp;
      const leads = ptp.grandmaster === true;
      return {
        domain,
        ...(leads ? { priority1: GRANDMASTER_PRIORITY1, profile: 'ST 2059-2', ...INTERVALS } : {}),
        ...(!leads && (ptp.mode ?? 'ordinary') === 'ordinary' ? { slaveOnly: true, clockClass: 255 } : {}),
        ...ptp,
      };
    },
    devicePtp: (device) => {
      const place = rank.get(device);
      if (place === undefined) return undefined;
      const { ptp } = device.line.kind.raw;
      return {
        ...(ptp?.grandmaster === true
          ? {}
          : { mode: 'ordinary', domain, grandmaster: true, slaveOnly: false, priority1: GRANDMASTER_PRIORITY1 }),
        priority2: Math.min(255, place + 1),
      };
    },
    switchPtp: (one) =>
      one.raw.boundary === true
        ? {
            mode: 'boundary',
            domain,
            priority1: one.uplink === undefined ? CORE_PRIORITY1 : OTHER_PRIORITY1,
            priority2: Math.min(255, 128 + boundaries.indexOf(one)),
            clockClass: LAST_RESORT_CLASS,
          }
        : { mode: 'none' },
    timing:
      used.length === 0
        ? undefined
        : {
            domains: [
              {
                name: 'media',
                number: domain,
                profile: 'ST 2059-2',
                edition: '2021',
                ...INTERVALS,
                ...(leaders.length === 0 ? {} : { grandmasters: leaders.map(({ name }) => name) }),
                networks: present.map(({ raw }) => raw.name),
              },
            ],
            mediaClock: 'direct=0',
          },
  };
}
