"""Linux bridges: one stands for a VLAN on a switch, one veth pair for a VLAN on a link; so no frame carries a tag."""
import time

from space import BUILDERS, enter, ip, new_namespace, path_of, run, write_setting
from packets import tap

FIRST_QUERY_S = 0.3


class Bridges:
    def __init__(self, spec, hosts):
        self.spec = spec
        self.hosts = hosts
        self.switches = {}
        self.link_taps = []

    def build(self):
        with BUILDERS:
            self.make()
        # A bridge that hears a querier before it has queried itself never stands for election, however low its address.
        time.sleep(FIRST_QUERY_S)
        with BUILDERS:
            self.connect()

    def make(self):
        for switch in self.spec['switches']:
            self.switches[switch['name']] = new_namespace()
        for bridge in self.spec['bridges']:
            enter(self.switches[bridge['switch']])
            ip([f"link add {bridge['name']} type bridge {bridge['options']}"])
            addresses = []
            if bridge.get('address') not in (None, '0.0.0.0'):
                addresses.append(f"address add {bridge['address']}/16 dev {bridge['name']}")
            if bridge.get('address6') is not None:
                write_setting(f"net/ipv6/conf/{bridge['name']}/disable_ipv6", '0')
                addresses.append(f"link set {bridge['name']} addrgenmode none")
                addresses.append(f"address add {bridge['address6']}/64 dev {bridge['name']} nodad")
            if bridge.get('address') is not None:
                # Only after the options: a bridge that starts to query floods for the response interval it has then.
                ip([*addresses, f"link set {bridge['name']} type bridge mcast_query_use_ifaddr 1 mcast_querier 1"])
        for host in self.spec['hosts']:
            enter(self.switches[host['switch']])
            ip([f"link add {host['port']} type veth peer name eth0 netns {path_of(self.hosts[host['name']].namespace)}",
                f"link set {host['port']} master {host['bridge']} up",
                *slave(host)])
        for link in self.spec['links']:
            near, far = link['ends']
            enter(self.switches[near['switch']])
            ip([f"link add {near['port']} type veth peer name {far['port']} netns {path_of(self.switches[far['switch']])}"])
            for end in link['ends']:
                enter(self.switches[end['switch']])
                ip([f"link set {end['port']} master {end['bridge']}", *slave(end)])
        for host in self.hosts.values():
            host.open()
        for bridge in self.spec['bridges']:
            enter(self.switches[bridge['switch']])
            ip([f"link set {bridge['name']} up"])

    def connect(self):
        for link in self.spec['links']:
            for end in link['ends']:
                enter(self.switches[end['switch']])
                ip([f"link set {end['port']} up"])
        for link in self.spec['links']:
            for end in link['ends']:
                enter(self.switches[end['switch']])
                self.link_taps.append((end['arrives'], tap(end['port'])))

        for host in self.spec['hosts']:
            enter(self.switches[host['switch']])
            for group in host.get('bound', []):
                run(['bridge', 'mdb', 'add', 'dev', host['bridge'], 'port', host['port'], 'grp', group, 'permanent'])

    def down(self, switch, port):
        enter(self.switches[switch])
        ip([f'link set {port} down'])

    def set_bridge(self, step):
        enter(self.switches[step['switch']])
        ip([f"link set {step['name']} type bridge {step['options']}"])

    def forget(self):
        """Nothing: timers of a bridge are short enough to wait for."""


def slave(port):
    options = port.get('options', '')
    return [f"link set {port['port']} type bridge_slave {options}"] if options else []
