// One figure for every note, of one instrument or of two side by side.
import { short } from "borewright/figures.js";
import { width } from "borewright/width.js";
export default {
  mixins: [width],
  template: `
  <div class="bw-pitches" ref="box">
    <svg :width="width" :height="height" role="listbox" tabindex="0" @keydown="keyed"
         :aria-label="title" :aria-activedescendant="chosen ? 'bw-figure-' + at(chosen) : null"
         data-mark="figures">
      <g aria-hidden="true">
        <g v-for="tick in ticks" :key="tick">
          <line x1="64" :x2="width" :y1="y(tick)" :y2="y(tick)" class="bw-hair"/>
          <text x="58" :y="y(tick) + 5" class="bw-tick">{{ told(tick) }}</text></g>
        <text x="64" y="16" class="bw-register">{{ title }}</text>
      </g>
      <g v-for="(note, i) in notes" :key="note.name" :id="'bw-figure-' + i" role="option"
         class="bw-note" :class="{ chosen: note.name === chosen }" :aria-label="says(i)"
         :aria-selected="note.name === chosen ? 'true' : 'false'" :data-figure="note.name"
         @click="$emit('pick', { note: note.name })">
        <rect :x="x(i) - step / 2" y="24" :width="step" :height="height - 44" class="bw-hit"/>
        <line v-if="other.length && other[i] != null && values[i] != null" :x1="x(i)" :x2="x(i)"
              :y1="y(values[i])" :y2="y(other[i])" class="bw-leader"/>
        <path v-if="other.length && other[i] != null" :d="diamond(x(i), y(other[i]))"
              class="bw-other"/>
        <circle v-if="values[i] != null" :cx="x(i)" :cy="y(values[i])" r="5" class="bw-mark"/>
      </g>
      <text v-for="(note, i) in notes" :key="note.name + '-name'" :x="x(i)" class="bw-name"
            :y="height - 6 - 13 * (i % 2)" aria-hidden="true">{{ step < 9 && i % 2 ? "" : note.written }}</text>
    </svg>
  </div>`,
  props: {
    notes: Array, values: Array, other: Array, unit: String, title: String, chosen: String,
    words: Object,
  },
  data() {
    return { height: 280 };
  },
  computed: {
    range() {
      const all = [...this.values, ...this.other].filter((value) => value != null);
      if (!all.length) return [0, 1];
      const low = Math.min(...all), high = Math.max(...all);
      const room = (high - low || Math.abs(high) || 1) * 0.08;
      return [low - room, high + room];
    },
    ticks() {
      const [low, high] = this.range;
      const rough = (high - low) / 5;
      const power = 10 ** Math.floor(Math.log10(rough));
      const step = [1, 2, 5, 10].map((n) => n * power).find((n) => n >= rough);
      const found = [];
      for (let tick = Math.ceil(low / step) * step; tick <= high; tick += step) found.push(tick);
      return found;
    },
    step() {
      return (this.width - 74) / Math.max(1, this.notes.length);
    },
  },
  methods: {
    x(i) {
      return 66 + (i + 0.5) * this.step;
    },
    y(value) {
      const [low, high] = this.range;
      return 28 + ((high - value) / (high - low)) * (this.height - 68);
    },
    told(value) {
      return short(value, 4);
    },
    diamond(x, y) {
      return `M${x - 6},${y}L${x},${y - 6}L${x + 6},${y}L${x},${y + 6}Z`;
    },
    at(name) {
      return this.notes.findIndex((note) => note.name === name);
    },
    says(i) {
      const one = this.values[i], two = this.other[i];
      let text = `${this.notes[i].name}: ${one == null ? this.words.none : this.told(one) + " " + this.unit}`;
      if (this.other.length) text += `, ${two == null ? this.words.none : this.told(two)}`;
      return text;
    },
    keyed(event) {
      const ways = { ArrowLeft: -1, ArrowRight: 1, Home: -1e6, End: 1e6 };
      if (!(event.key in ways)) return;
      event.preventDefault();
      event.stopPropagation();
      const next = this.at(this.chosen) + ways[event.key];
      this.$emit("pick", { note: this.notes[Math.min(Math.max(next, 0), this.notes.length - 1)].name });
    },
  },
};
