// How a fit came on: root mean square and worst cents, round by round.
import { fixed } from "borewright/figures.js";
export default {
  template: `
  <svg v-if="points.length" viewBox="0 0 600 130" class="bw-course" role="img" :aria-label="says"
       data-mark="course">
    <line x1="44" x2="590" y1="106" y2="106" class="bw-zero"/>
    <line x1="44" x2="590" :y1="y(tolerance)" :y2="y(tolerance)" class="bw-tempered"/>
    <text x="40" y="110" class="bw-tick">0</text>
    <text x="40" :y="y(most) + 6" class="bw-tick">{{ fixed(most, 0) }}</text>
    <polyline :points="line(2)" class="bw-course-worst"/>
    <polyline :points="line(1)" class="bw-course-rms"/>
    <text :x="x(last) + 4" :y="y(last[2]) + 4" class="bw-course-words">{{ words.worst }} {{ fixed(last[2], 1) }}</text>
    <text :x="x(last) + 4" :y="y(last[1]) + 14" class="bw-course-words">{{ words.rms }} {{ fixed(last[1], 1) }}</text>
    <text x="317" y="126" class="bw-name">{{ words.round }} {{ last[0] }}</text>
  </svg>`,
  props: { points: Array, tolerance: Number, words: Object },
  computed: {
    most() {
      return Math.max(10, ...this.points.map((point) => point[2]));
    },
    last() {
      return this.points[this.points.length - 1];
    },
    says() {
      return `${this.words.round} ${this.last[0]}: ${this.words.rms} ${fixed(this.last[1], 1)}, `
        + `${this.words.worst} ${fixed(this.last[2], 1)}`;
    },
  },
  methods: {
    fixed,
    x(point) {
      return 48 + (point[0] / Math.max(12, this.last[0])) * 440;
    },
    y(cents) {
      return 106 - (Math.min(cents, this.most) / this.most) * 96;
    },
    line(index) {
      return this.points.map((point) => `${this.x(point)},${this.y(point[index])}`).join(" ");
    },
  },
};
