// What a little more bore at each place does to a note, above the bore itself.
import { rounded } from "borewright/figures.js";
export default {
  template: `
  <svg v-if="stations.length" viewBox="0 0 1000 250" role="img" :aria-label="says"
       class="bw-bore-curve" data-mark="bore-curve">
    <path :d="bore(1)" class="bw-wall bw-part-1"/><path :d="bore(-1)" class="bw-wall bw-part-1"/>
    <line x1="60" x2="990" :y1="y(0)" :y2="y(0)" class="bw-zero"/>
    <text x="54" :y="y(most) + 5" class="bw-tick">+{{ told(most) }}</text>
    <text x="54" :y="y(-most) + 5" class="bw-tick">−{{ told(most) }}</text>
    <text x="54" :y="y(0) + 5" class="bw-tick">0</text>
    <path :d="area" class="bw-area"/><polyline :points="line" class="bw-curve"/>
    <g v-for="part in parts" :key="part.name">
      <line :x1="x(part.from)" :x2="x(part.from)" y1="10" y2="232" class="bw-hair"/>
      <text :x="(x(part.from) + x(part.to)) / 2" y="246" class="bw-name">{{ part.name }}</text></g>
  </svg>`,
  props: { stations: Array, cents: Array, title: String, words: Object },
  computed: {
    most() {
      return Math.max(0.1, ...this.cents.map(Math.abs));
    },
    length() {
      return this.stations[this.stations.length - 1].position;
    },
    line() {
      return this.stations.map((s, i) => `${this.x(s.position)},${this.y(this.cents[i])}`).join(" ");
    },
    area() {
      return `M${this.x(this.stations[0].position)},${this.y(0)}L${this.line.replaceAll(" ", "L")}`
        + `L${this.x(this.length)},${this.y(0)}Z`;
    },
    parts() {
      const found = [];
      for (const s of this.stations) {
        const last = found[found.length - 1];
        if (last && last.name === s.part) last.to = s.position;
        else found.push({ name: s.part, from: s.position, to: s.position });
      }
      return found;
    },
    says() {
      const most = this.cents.reduce((best, c, i) => (Math.abs(c) > Math.abs(this.cents[best]) ? i : best), 0);
      const s = this.stations[most];
      return `${this.title}: ${this.words.most} ${this.told(this.cents[most])} ${this.words.at} ${s.part} ${this.told(s.station)} mm`;
    },
  },
  methods: {
    x(mm) {
      return 62 + (mm / this.length) * 920;
    },
    y(cents) {
      return 84 - (cents / this.most) * 70;
    },
    told(value) {
      return rounded(value, 2);
    },
    bore(side) {
      const r = (s) => 196 - side * (s.diameter / 2) * 0.9;
      const points = this.stations.map((s) => `${this.x(s.position)},${r(s)}`).join("L");
      const far = 196 - side * 33;
      return `M${points}L${this.x(this.length)},${far}L${this.x(this.stations[0].position)},${far}Z`;
    },
  },
};
