// What may move: a grid of tick boxes, holes above, parts below.
export default {
  template: `
  <div class="bw-scroll bw-grid" tabindex="0" role="region" :aria-label="words.caption">
    <table v-for="block in blocks" :key="block.title" class="bw-table">
      <caption>{{ block.title }}</caption>
      <thead><tr><th scope="col">{{ words.what }}</th>
        <th v-for="column in block.columns" :key="column.key" scope="col">
          <label class="bw-tick-all"><input type="checkbox" :checked="all(block, column.key)"
            :aria-label="column.words + ': ' + words.all"
            @change="$emit('set', { cells: cells(block, column.key), on: $event.target.checked })"
            /> {{ column.words }}</label></th></tr></thead>
      <tbody><tr v-for="row in block.rows" :key="row"><th scope="row">{{ row }}</th>
        <td v-for="column in block.columns" :key="column.key"><input type="checkbox"
          :checked="free.includes(row + '.' + column.key)" :aria-label="row + ' ' + column.words"
          :data-cell="row + '.' + column.key" class="bw-tick-box"
          @change="$emit('set', { cells: [row + '.' + column.key], on: $event.target.checked })"/>
        </td></tr></tbody>
    </table>
  </div>`,
  props: { blocks: Array, free: Array, words: Object },
  methods: {
    cells(block, key) {
      return block.rows.map((row) => row + "." + key);
    },
    all(block, key) {
      return this.cells(block, key).every((cell) => this.free.includes(cell));
    },
  },
};
