// A fingering as rows of holes from the top down: filled is closed, open is a ring.
const STEP = 27, TALL = 92;
export default {
  template: `
  <figure class="bw-fingering">
    <svg :viewBox="'0 0 ' + wide + ' ' + rows.length * tall" role="img" :aria-label="says"
         data-mark="fingering">
      <g v-for="(row, r) in rows" :key="r" :transform="'translate(0 ' + r * tall + ')'">
        <line x1="6" :x2="wide - 6" y1="44" y2="44" class="bw-body-line"/>
        <g v-for="hole in row" :key="hole.name" :class="{ open: hole.open }">
          <rect v-if="hole.cover === 'pad'" :x="hole.x - 6" :y="hole.y - 6" width="12" height="12"
                rx="2"/>
          <circle v-else :cx="hole.x" :cy="hole.y" :r="hole.cover === 'ring' ? 8 : 7"/>
          <circle v-if="hole.cover === 'ring'" :cx="hole.x" :cy="hole.y" r="10.5" class="bw-ring"/>
          <text :x="hole.x" :y="hole.y < 44 ? hole.y - 10 : hole.y + 22">{{ hole.name }}</text>
        </g>
      </g>
    </svg>
    <figcaption>{{ title }}<span class="bw-small">{{ comment }}</span></figcaption>
  </figure>`,
  props: {
    holes: Array, joints_at: Array, open: Array, title: String, comment: String, words: Object,
  },
  data() {
    return { tall: TALL };
  },
  computed: {
    rows() {
      // A row a part, but short parts share one.
      const rows = [[]];
      this.holes.forEach((hole, i) => {
        if (this.joints_at.includes(i) && rows[rows.length - 1].length > 4) rows.push([]);
        const row = rows[rows.length - 1];
        row.push({
          ...hole, x: 24 + row.length * STEP, open: this.open.includes(hole.name),
          y: hole.side === "back" ? 60 : hole.side === "side" ? 26 : 44,
        });
      });
      return rows;
    },
    wide() {
      return Math.max(200, ...this.rows.map((row) => row.length * STEP + 24));
    },
    says() {
      return `${this.title}. ${this.words.open}: ${this.open.join(" ") || this.words.none}`;
    },
  },
};
