"""Builds rigs out of Linux bridges or Open vSwitch and sees which links and hosts each stream reaches.

Reads a list of benches (JSON) from standard input, runs them side by side, writes what it saw to standard output.

Runs in a lab (`lab.ts`). Every switch and every host is a further network namespace that has no name: it lives only
while this process holds it open, so that nothing is left behind however the process ends.
"""
import json
import os
import resource
import sys
import time

from bridges import Bridges
from host import DEADLINE_S, Host
from rounds import PACKETS_A_ROUND, count_round, side_by_side, steady
from space import BUILDERS
from vswitch import Daemons, OpenVSwitch

# Limits on what one run may do, whatever it is asked.
MOST_ROUNDS = 12
MOST_STREAMS = 64
MOST_BENCHES = 80

# A round is over when nothing has come for so long.
QUIET_S = 0.3
HOPS = 8


class Bench:
    def __init__(self, spec, number, daemons):
        self.spec = spec
        if len(spec['streams']) > MOST_STREAMS:
            raise ValueError('too many streams')
        self.hosts = {}
        self.fabric = (OpenVSwitch(spec, self.hosts, daemons, number) if spec['plane'] == 'openvswitch'
                       else Bridges(spec, self.hosts))

    def build(self):
        with BUILDERS:
            for host in self.spec['hosts']:
                self.hosts[host['name']] = Host(host)
        self.fabric.build()

    def run(self):
        seen = []
        for step in self.spec['steps']:
            kind = step['do']
            if kind == 'wait':
                time.sleep(step['seconds'])
            elif kind == 'join':
                self.hosts[step['host']].join(step['group'], step.get('source'))
            elif kind == 'leave':
                self.hosts[step['host']].leave(step['group'], step.get('source'), step.get('aloud', False))
            elif kind in ('query', 'query6', 'hello'):
                self.hosts[step['host']].speak(kind, step.get('version', 3), 2)
            elif kind == 'silence':
                self.hosts[step['host']].speaking.clear()
            elif kind == 'bridge':
                self.fabric.set_bridge(step)
            elif kind == 'cut':
                for link in self.spec['links']:
                    if link['name'] == step['link']:
                        for end in link['ends']:
                            self.fabric.down(end['switch'], end['port'])
            elif kind == 'off':
                self.off(step['switch'])
            elif kind == 'forget':
                self.fabric.forget()
            elif kind == 'send':
                seen.append(self.send(step.get('rounds', 2)))
            else:
                raise ValueError(kind)
        return seen

    def off(self, switch):
        """A switch without power: whatever it was plugged to loses its carrier."""
        for host in self.spec['hosts']:
            if host['switch'] == switch:
                self.fabric.down(switch, host['port'])
        for link in self.spec['links']:
            if any(end['switch'] == switch for end in link['ends']):
                for end in link['ends']:
                    self.fabric.down(end['switch'], end['port'])

    def send(self, needed):
        return steady(self.round, MOST_ROUNDS, needed)

    def round(self):
        taps = [('ports', {'0': name}, host.tap) for name, host in self.hosts.items()]
        taps += [('links', names, sock) for names, sock in self.fabric.link_taps]
        return count_round(self.send_one, self.spec['streams'], ('ports', 'links'), taps, QUIET_S, name_by_tag)

    def send_one(self, number, stream):
        self.hosts[stream['host']].send(stream['group'], number, HOPS)


def name_by_tag(_kind, names, _number, tag, _hops):
    # A tag that nobody planned there shows.
    return names.get(str(tag), f'{next(iter(names.values()), "?")} tagged {tag}')


def see(spec, number, daemons):
    bench = Bench(spec, number, daemons)
    bench.build()
    return bench.run()


def main():
    _, most = resource.getrlimit(resource.RLIMIT_NOFILE)
    resource.setrlimit(resource.RLIMIT_NOFILE, (most, most))
    specs = json.load(sys.stdin)
    if len(specs) > MOST_BENCHES:
        raise ValueError('too many benches')
    daemons = Daemons(sys.argv[1]) if any(spec['plane'] == 'openvswitch' for spec in specs) else None
    results = side_by_side(specs, lambda spec, number: see(spec, number, daemons), DEADLINE_S)
    print(json.dumps({'packets': PACKETS_A_ROUND, 'results': results}))
    sys.stdout.flush()
    # The kernel takes back every namespace with the last handle on it.
    os._exit(0)


if __name__ == '__main__':
    main()
