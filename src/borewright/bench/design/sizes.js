// Dimensions as a table to type in.
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
              @blur="left(cell)" @keydown.escape="delete typing[cell.column]" />
          </td>
        </tr>
      </tbody>
    </table>
    <p v-if="said" id="bw-sizes-wrong" role="alert" class="bw-wrong">{{ said }}</p>
  </div>`,
  props: { groups: Array, heads: Array, words: Object, chosen: String, wrong: Number, said: String },
  data() {
    return { typing: {} }; // what is typed stays, whatever arrives meanwhile
  },
  methods: {
    typed(cell) {
      this.$emit("typed", { column: cell.column, text: this.typing[cell.column] ?? cell.shown });
    },
    left(cell) {
      if (this.wrong !== cell.column) delete this.typing[cell.column];
    },
  },
  watch: {
    groups(groups, old) {
      // Every update brings new objects; only other sizes take away what is being typed.
      if (JSON.stringify(groups) !== JSON.stringify(old)) this.typing = {};
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
