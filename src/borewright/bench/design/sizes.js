// Dimensions as a table to type in.
let kept = null; // what was refused, while the page is told in another language
const WAIT_MS = 3000; // a table that comes back later than this is another table
export default {
  template: `
  <div class="bw-sizes bw-scroll">
    <table class="bw-table" data-mark="sizes">
      <caption>{{ words.caption }}</caption>
      <thead><tr><th scope="col">{{ words.what }}</th>
        <th v-for="head in heads" :key="head" scope="col">{{ head }}</th></tr></thead>
      <tbody v-for="group in groups" :key="group.name">
        <tr><th :colspan="heads.length + 1" scope="colgroup" class="bw-group">{{ group.name }}</th></tr>
        <tr v-for="row in group.rows" :key="row.name" :class="{ chosen: row.name === chosen }"
            @focusin="$emit('pick', { name: row.name })">
          <th scope="row">{{ row.title }}</th>
          <td v-for="(cell, i) in row.cells" :key="i" class="bw-cell">
            <input v-if="cell" type="text" inputmode="decimal" autocomplete="off" :value="cell.column in typing ? typing[cell.column] : cell.shown"
              :aria-label="row.title + ' ' + heads[i]" :data-column="cell.column" :title="cell.help"
              :class="{ beyond: cell.beyond }"
              :aria-invalid="wrong === cell.column ? 'true' : 'false'"
              :aria-describedby="wrong === cell.column ? 'bw-sizes-wrong' : null"
              @input="typing[cell.column] = $event.target.value" @change="typed(cell)"
              @blur="left(cell)" @keydown.escape="take_the_other(cell)" />
          </td>
        </tr>
      </tbody>
    </table>
    <p v-if="said" id="bw-sizes-wrong" role="alert" class="bw-wrong">{{ said }}</p>
    <p v-if="changed" role="status" class="bw-changed" data-mark="sizes-changed">{{ changed }}</p>
  </div>`,
  props: {
    groups: Array, heads: Array, words: Object, chosen: String, wrong: Number, said: String,
    language: String,
    mine: Boolean, // whether the sizes come from what this page did
  },
  data() {
    return { typing: {}, sent: {}, changed: "" }; // what is typed stays, whatever arrives meanwhile
  },
  mounted() {
    const found = kept;
    kept = null;
    if (!found || found.language === this.language || Date.now() - found.at > WAIT_MS) return;
    for (const [key, cell] of this.cells(this.groups))
      if (found.typing.has(key)) {
        this.typing[cell.column] = found.typing.get(key);
        this.typed(cell); // what is wrong with it is told anew
      }
  },
  beforeUnmount() {
    const typing = new Map();
    for (const [key, cell] of this.cells(this.groups))
      if (cell.column in this.typing) typing.set(key, this.typing[cell.column]);
    if (typing.size) kept = { typing, language: this.language, at: Date.now() };
  },
  methods: {
    typed(cell) {
      this.changed = "";
      this.sent[cell.column] = this.typing[cell.column];
      this.$emit("typed", { column: cell.column, text: this.typing[cell.column] ?? cell.shown });
    },
    left(cell) {
      if (this.wrong !== cell.column) this.take_the_other(cell);
    },
    take_the_other(cell) {
      delete this.typing[cell.column];
      this.changed = "";
    },
    cells(groups) {
      const found = new Map();
      for (const group of groups)
        for (const row of group.rows)
          row.cells.forEach((cell, i) => cell && found.set(`${group.name}|${row.name}|${i}`, cell));
      return found;
    },
    keep(groups, old) {
      // A dimension is known by its part, row and place: columns move where holes come or go.
      const after = this.cells(groups), typing = {};
      let changed = "";
      for (const [key, cell] of this.cells(old)) {
        const text = this.typing[cell.column], now = after.get(key);
        if (text === undefined || !now || text === this.sent[cell.column]) continue;
        typing[now.column] = text;
        if (!this.mine)
          changed = now.shown === cell.shown ? this.words.changed.same
            : this.words.changed.other.replaceAll("{value}", now.shown);
      }
      this.typing = typing;
      this.sent = {};
      this.changed = changed;
    },
  },
  watch: {
    groups(groups, old) {
      // Every update brings new objects; only other sizes are a change.
      if (JSON.stringify(groups) !== JSON.stringify(old)) this.keep(groups, old);
    },
    chosen() {
      this.$nextTick(() => {
        const row = this.$el.querySelector("tr.chosen");
        const box = this.$el;
        if (!row || row.contains(document.activeElement)) return;
        if (row.offsetTop < box.scrollTop || row.offsetTop + 40 > box.scrollTop + box.clientHeight)
          box.scrollTop = row.offsetTop - box.clientHeight / 2;
      });
    },
  },
};
