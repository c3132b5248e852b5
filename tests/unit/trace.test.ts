/** One stream's way: what carries it and why, whom it misses and why, and what would take it. */
import { describe, expect, it } from 'vitest';
import { loadPlan } from '../../src/plan/load.js';
import { createModel } from '../../src/model/model.js';
import type { Hop } from '../../src/model/explain/trace-hops.js';
import { readInputs } from '../../src/edge/files.js';
import { reportTraceText } from '../../src/reporters/trace.js';
import { modelOf, DUNLIN_SMALL, traceOf } from '../tools/network-plans.js';
import { HERON, PLAIN, text } from '../tools/trace-texts.js';

describe('whole reports', () => {
  it('a router, an alias, a flooded VLAN, an overloaded link, receivers that get nothing', () => {
    expect(`\n${text(DUNLIN_SMALL, 'cam-31/video')}`).toMatchInlineSnapshot(`
      "
      STREAM cam-31/video
      -------------------
      Rig          Dunlin
      Format       1080p50: ST 2110-20, 1920x1080, 50 frames a second, YCbCr-4:2:2, depth 10
      Taken by     6 receivers: vision/in-31, monitor/cam-31, guest/cam-31, spare/cam-31,
                   jib/wrong-group and jib/wrong-source
      Loads        all streams together while nothing has failed

      LEG 1 of 1: 239.192.31.11 in VLAN red-video (110)
      -------------------------------------------------
      Sent         from cam-31 red, source 172.20.1.31, UDP port 20000, TTL 8
      On the wire  2.22 Gbit/s on a host port, 2.23 Gbit/s with its VLAN tag on a link
      IGMP         version 3; snooping on; groups nobody joined are dropped; a membership nobody
                   renews ends after 260 s
      Querier      tower 172.20.1.1, the lowest of 2 addresses; in reserve boathouse 172.20.1.9
      Way          in at pontoon/1 from cam-31 red: 4.44 of 25 Gbit/s
        switch pontoon
          hop 1 links P1 and P2 into switch tower (queries, routes): 4.46 of 200 Gbit/s,
             spread evenly at best, at worst 4.46 of 100 Gbit/s on one member; joined behind it
             by vision/in-31 and monitor/cam-31; joined behind it for another source of the
             group by jib/wrong-source; alias of 239.64.31.11, joined behind it by
             recorder/clean-31: one multicast MAC for the switch
            out tower/1 to vision red: 4.44 of 25 Gbit/s; joined by vision/in-31
            out tower/2 to jib red: 4.44 of 25 Gbit/s; joined for another source of the group
               by jib/wrong-source
            hop 2 link B1 into switch boathouse: 4.46 of 1 Gbit/s, MORE THAN IT CARRIES;
               alias of 239.64.31.11, joined behind it by recorder/clean-31: one multicast MAC
               for the switch
              out boathouse/1 to recorder red: 4.44 of 1 Gbit/s, MORE THAN IT CARRIES; alias
                 of 239.64.31.11, joined by recorder/clean-31: one multicast MAC for the switch

      Through      tower on into red-preview (140)
      IGMP         version not stated; snooping off; what becomes of groups nobody joined is not
                   stated; a membership nobody renews ends after 260 s
      Querier      none, and none needed while snooping is off
      Flooded      everywhere, because snooping is off
      Way          starts at the router tower itself
        switch tower (routes)
          out tower/11 to monitor preview: 2.22 of 10 Gbit/s; joined by monitor/cam-31
          out 1 port where nobody asked, to tablet preview; flooded because snooping is off

      Not reached  guest/cam-31: it stands in red-visitors (150), and nothing routes multicast
                   there from red-video (110)
                   spare/cam-31: not known where it stands: give the interface a \`port\` that
                   carries its VLAN: \`leaf-a/12\`
                   jib/wrong-group: it joins 239.192.31.12 instead
                   jib/wrong-source: it takes the group from 172.20.1.13 only

      WHAT ALONE TAKES IT OFF AIR
      ---------------------------
      Takes it     from all 2: device cam-31, interface cam-31 red, risk lake cable,
                   switch pontoon and switch tower
                   from each receiver: its own device and interface

      Caution      A clean result is a check on paper, not proof for air. Safety intercom and
                   public address follow local codes and competent testing.
      "
    `);
  });

  it('Kestrel Bay, a picture on two legs', () => {
    const { inputs } = readInputs([HERON]);
    const model = createModel(loadPlan(inputs).plan);
    expect(`\n${reportTraceText({ traces: [traceOf(model, 'cam-11/video')], problems: [] }, PLAIN)}`)
      .toMatchInlineSnapshot(`
        "
        STREAM cam-11/video
        -------------------
        Rig          Heron
        Format       1080p50: ST 2110-20, 1920x1080, 50 frames a second progressive, YCbCr-4:2:2,
                     depth 10
        Taken by     3 receivers: vision-core/cam-11, multiviewer/cam-11 and replay-131/in-1
        Loads        all streams together while nothing has failed

        LEG 1 of 2: 239.192.10.11 in VLAN red-video (210)
        -------------------------------------------------
        Sent         from cam-11 red, source 10.20.10.11, UDP port 5004, TTL 64
        On the wire  2.22 Gbit/s on a host port, 2.23 Gbit/s with its VLAN tag on a link
        IGMP         version 3; snooping on; groups nobody joined are dropped; a membership nobody
                     renews ends after 260 s
        Querier      red-core 10.20.10.1, the lowest of 2 addresses; in reserve red-truck
                     10.20.10.2
        Way          in at red-start/1 from cam-11 red: 2.23 of 25 Gbit/s
          switch red-start
            hop 1 link R02 into switch red-core (queries): 9.23 of 100 Gbit/s; joined behind it
               by vision-core/cam-11, multiviewer/cam-11 and replay-131/in-1
              out red-core/1 to vision-core red: 71.12 of 100 Gbit/s; joined by
                 vision-core/cam-11
              hop 2 link R01 into switch red-truck: 62.56 of 100 Gbit/s; joined behind it by
                 multiviewer/cam-11 and replay-131/in-1
                out red-truck/25 to multiviewer red: 68.89 of 100 Gbit/s; joined by
                   multiviewer/cam-11
                out red-truck/3 to replay-131 red: 13.37 of 25 Gbit/s; joined by
                   replay-131/in-1

        Lost with    from all 3: device cam-11, interface cam-11 red, link R02,
                     power feed start-mains, risk north multicore, risk towpath duct,
                     switch red-core and switch red-start
                     from multiviewer/cam-11 and replay-131/in-1: link R01, risk truck red tray
                     and switch red-truck
                     from each receiver: its own device and interface

        LEG 2 of 2: 239.193.10.11 in VLAN blue-video (310)
        --------------------------------------------------
        Sent         from cam-11 blue, source 10.21.10.11, UDP port 5004, TTL 64
        On the wire  2.22 Gbit/s on a host port, 2.23 Gbit/s with its VLAN tag on a link
        IGMP         version 3; snooping on; groups nobody joined are dropped; a membership nobody
                     renews ends after 260 s
        Querier      blue-core 10.21.10.1, the lowest of 2 addresses; in reserve blue-truck
                     10.21.10.2
        Way          in at blue-start/1 from cam-11 blue: 2.23 of 25 Gbit/s
          switch blue-start
            hop 1 link B02 into switch blue-core (queries): 9.23 of 100 Gbit/s; joined behind
               it by vision-core/cam-11, multiviewer/cam-11 and replay-131/in-1
              out blue-core/1 to vision-core blue: 71.12 of 100 Gbit/s; joined by
                 vision-core/cam-11
              hop 2 link B01 into switch blue-truck: 62.56 of 100 Gbit/s; joined behind it by
                 multiviewer/cam-11 and replay-131/in-1
                out blue-truck/25 to multiviewer blue: 68.89 of 100 Gbit/s; joined by
                   multiviewer/cam-11
                out blue-truck/3 to replay-131 blue: 13.37 of 25 Gbit/s; joined by
                   replay-131/in-1

        Lost with    from all 3: device cam-11, interface cam-11 blue, link B02,
                     power feed start-generator, risk boathouse duct, risk south multicore,
                     switch blue-core and switch blue-start
                     from multiviewer/cam-11 and replay-131/in-1: link B01, risk truck blue tray
                     and switch blue-truck
                     from each receiver: its own device and interface

        WHAT ALONE TAKES IT OFF AIR
        ---------------------------
        Takes it     from all 3: device cam-11
                     from each receiver: its own device and interface

        Caution      A clean result is a check on paper, not proof for air. Safety intercom and
                     public address follow local codes and competent testing.
        "
      `);
  });

  it('an unreadable plan', () => {
    const { problems } = loadPlan([{ name: 'plan.yaml', text: 'devices: 3\n' }]);
    expect(problems.length).toBe(1);
    expect(`\n${reportTraceText({ traces: [], problems }, PLAIN)}`).toMatchInlineSnapshot(`
      "
      INPUT THAT COULD NOT BE READ
      ----------------------------

      UNREAD    \`devices\` is \`3\`, not a list
        Do      write a list, each entry on a line that starts with \`- \`. Devices.
        Where   plan.yaml 1:10

      Caution      A clean result is a check on paper, not proof for air. Safety intercom and
                   public address follow local codes and competent testing.
      "
    `);
  });
});

describe('why a port carries a stream', () => {
  const plain = (changes: string): string => `
vlans: [{name: red, ${changes}}]
switches:
  - {name: a, ports: [{name: 1-4, access: red}, {name: t, trunk: [red]}]}
  - {name: b, ports: [{name: 1-4, access: red}, {name: t, trunk: [red]}]}
links: [{name: L, ends: [a/t, b/t]}]
devices:
  - {name: cam, interfaces: [{name: red, vlan: red, port: a/1}], senders: [{name: v, legs: [{interface: red, group: 239.10.1.1}]}]}
  - {name: mon, interfaces: [{name: red, vlan: red, port: b/1}], receivers: [{name: other, legs: [{interface: red, group: 239.10.1.2}]}]}
`;
  const whys = (changes: string): readonly string[] => {
    const [leg] = traceOf(modelOf(plain(changes)), 'cam/v').legs;
    return (leg?.stages ?? [])
      .flatMap((stage) => stage.hops)
      .flatMap((hop) =>
        'whys' in hop
          ? hop.whys.map(
              (why) =>
                `${nameOf(hop)}: ${JSON.stringify(why.kind === 'towards' ? [why.kind, why.what, why.on.name] : why.kind === 'flooded' ? why.reason : why.kind)}`,
            )
          : [],
      );
  };

  it('RFC 4541 §2.1.2 (1): towards the querier, joined or not', () => {
    expect(whys('igmp: {snooping: true, unregistered: drop, querier: [{on: b}]}')).toEqual([
      'L: ["towards","querier","b"]',
    ]);
  });

  it('RFC 3376 §6.6.2: the querier of the lowest address draws it, the other does not', () => {
    expect(
      whys(
        'igmp: {snooping: true, unregistered: drop, querier: [{on: b, address: 10.1.1.2}, {on: a, address: 10.1.1.1}]}',
      ),
    ).toEqual([]);
  });

  it('RFC 4541 §2.1.2 (3): unregistered groups where switches flood them', () => {
    expect(whys('igmp: {snooping: true, unregistered: flood}')).toEqual([
      'L: "unregistered"',
      'mon red: "unregistered"',
    ]);
    expect(whys('igmp: {snooping: true, unregistered: drop}')).toEqual([]);
  });

  it('without snooping everywhere', () => {
    expect(whys('igmp: {snooping: false}')).toEqual(['L: "snooping off"', 'mon red: "snooping off"']);
  });
});

function nameOf(hop: Hop): string {
  if (hop.kind === 'link') return hop.links.map((link) => link.name).join(' ');
  return hop.kind === 'port' ? `${hop.interface.device.name} ${hop.interface.name}` : hop.switch.name;
}
