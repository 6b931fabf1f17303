// What the fit proposes, dimension by dimension, each to be taken or left.
export default {
  template: `
  <div class="bw-scroll bw-moves-table" tabindex="0" role="region" :aria-label="words.caption">
    <table class="bw-table" data-mark="moves">
      <caption>{{ words.caption }}</caption>
      <thead><tr><th scope="col">{{ words.take }}</th><th scope="col">{{ words.what }}</th>
        <th scope="col" class="bw-right">{{ words.now }}</th>
        <th scope="col" class="bw-right">{{ words.then }}</th>
        <th scope="col" class="bw-right">{{ words.by }}</th>
        <th scope="col">{{ words.limit }}</th></tr></thead>
      <tbody><tr v-for="row in rows" :key="row.key">
        <td><input v-if="row.first" type="checkbox" class="bw-tick-box" :checked="!left.includes(row.owner)"
          :aria-label="words.take + ' ' + row.owner" :data-take="row.owner"
          @change="$emit('take', { owner: row.owner, on: $event.target.checked })"/></td>
        <th scope="row">{{ row.words }}</th>
        <td class="bw-right">{{ row.now }}</td><td class="bw-right">{{ row.then }}</td>
        <td class="bw-right">{{ row.by }}</td><td>{{ row.limit }}</td></tr></tbody>
    </table>
  </div>`,
  props: { rows: Array, left: Array, words: Object },
};
