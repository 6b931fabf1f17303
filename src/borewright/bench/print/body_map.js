// The body's outside unrolled, to scale along the body: where a finding is shows in colour.
const WIDE = 1200;
const HIGH = 330;
const LEFT = 70;
const TOP = 34;
export default {
  template: `
  <svg class="bw-map" role="img" :aria-label="label" :viewBox="'0 0 ' + wide + ' ' + high">
    <g v-for="row in rows" :key="row.words">
      <line :x1="left" :x2="wide" :y1="y(row.at)" :y2="y(row.at)" class="bw-take-hair"/>
      <text :x="left - 8" :y="y(row.at) + 5" class="bw-take-row">{{ row.words }}</text>
    </g>
    <g v-for="(part, i) in parts" :key="part.name">
      <rect :x="x(part.from)" :y="top" :width="x(part.to) - x(part.from)" :height="bottom - top"
            :class="['bw-map-part', 'bw-part-' + (i % 5 + 1), { shown: shown.parts.includes(part.name) }]"/>
      <text :x="(x(part.from) + x(part.to)) / 2" :y="top - 10" class="bw-map-name"
            :class="{ shown: shown.parts.includes(part.name) }">{{ part.name }}</text>
    </g>
    <g v-for="mark in marks" :key="mark.kind + mark.name" class="bw-map-mark"
       :class="{ shown: mark.shown }">
      <circle v-if="mark.pad" :cx="x(mark.station)" :cy="y(mark.bearing)" :r="mark.pad * scale"
              class="bw-map-pad"/>
      <circle v-if="mark.kind === 'hole'" :cx="x(mark.station)" :cy="y(mark.bearing)"
              :r="mark.radius * scale" class="bw-map-hole"/>
      <rect v-else :x="x(mark.station) - 4" :y="y(mark.bearing) - 4" width="8" height="8"
            class="bw-map-post"/>
      <circle v-if="mark.shown" :cx="x(mark.station)" :cy="y(mark.bearing)" r="19"
              class="bw-map-ring"/>
      <text v-if="mark.shown" :x="x(mark.station)" :y="y(mark.bearing) + (mark.below ? 37 : -25)"
            class="bw-map-label">{{ mark.label }}</text>
    </g>
    <line v-for="at in shown.stations" :key="at" :x1="x(at)" :x2="x(at)" :y1="top - 4"
          :y2="bottom + 4" class="bw-map-station"/>
  </svg>`,
  props: {
    parts: Array, features: Array, rows: Array, length: Number, shown: Object, label: String,
  },
  data() {
    return { wide: WIDE, high: HIGH, left: LEFT, top: TOP, bottom: HIGH - 8 };
  },
  computed: {
    scale() {
      return (WIDE - LEFT - 6) / this.length;
    },
    marks() {
      const marks = this.features.map((each) => ({
        ...each,
        shown: this.shown[each.kind + "s"].includes(each.name),
      }));
      // Shown ones last, so that they lie on top; neighbours' labels go above and below in turn.
      marks.sort((a, b) => a.shown - b.shown || a.station - b.station);
      let number = 0;
      for (const mark of marks)
        if (mark.shown) mark.below = number++ % 2 === 1 || this.y(mark.bearing) < TOP + 40;
      return marks;
    },
  },
  methods: {
    come_into_sight() {
      this.$el.scrollIntoView({ block: "nearest" });
    },
    x(station) {
      return LEFT + station * this.scale;
    },
    y(bearing) {
      return TOP + 18 + ((bearing + 180) / 360) * (HIGH - 8 - TOP - 36);
    },
  },
};
