import re
from types import SimpleNamespace

import pytest
from django import forms
from django.core.paginator import Paginator
from django.template.loader import render_to_string

from inventory.pages.table import Cell, Column, Line, build_table


class LengthForm(forms.Form):
    length = forms.DecimalField(label="Length, m", help_text="as received")
    finish = forms.ChoiceField(
        label="End finish", choices=[("s", "seized"), ("f", "fused")], widget=forms.RadioSelect
    )
    is_marked = forms.BooleanField(label="Read from the rope", required=False)
    secret = forms.CharField(widget=forms.HiddenInput, required=False)


def part(name, **context):
    return render_to_string(f"parts/_{name}.html", context)


def filled(data=None):
    return part("form", form=LengthForm(data), submit="Receive the reel", cancel="")


@pytest.mark.parametrize("shape", ["good", "open", "wait", "past", "stop"])
def test_a_state_is_a_word_and_a_shape(shape):
    markup = part("state", word="under hold", shape=shape)
    assert "<svg" in markup
    assert "under hold</span>" in markup


def test_shapes_differ():
    shapes = [part("state", word="", shape=s) for s in ("good", "open", "wait", "past", "stop")]
    paths = {re.sub(r'class="[^"]*"', "", markup) for markup in shapes}
    assert len(paths) == len(shapes)


def test_every_control_has_its_label():
    markup = filled()
    for control in re.findall(r'<input type="(?!hidden)[^>]* id="([^"]+)"', markup):
        assert f'for="{control}"' in markup


def test_errors_are_listed_with_links_to_controls_that_exist():
    markup = filled({"length": "much"})
    targets = re.findall(r'<a href="#([^"]+)">', markup)
    assert targets == ["id_length", "id_finish_0"]
    assert all(f'id="{target}"' in markup for target in targets)


def test_a_wrong_control_names_its_help_and_its_error():
    markup = filled({"length": "much"})
    described = re.search(r'<input[^>]*name="length"[^>]*aria-describedby="([^"]+)"', markup)
    assert described is not None
    assert all(f'id="{target}"' in markup for target in described[1].split())
    assert 'aria-invalid="true"' in markup


def test_a_sound_form_shows_no_errors():
    assert "error-summary" not in filled()


def table(*, folds):
    return build_table(
        columns=["Reel", Column("Length, m", is_number=True), "State"],
        lines=[
            Line([Cell("R-1", href="/r/1/"), "500", Cell("under hold", shape="stop")], is_held=True)
        ],
        folds=folds,
    )


@pytest.mark.parametrize("folds", [True, False])
def test_a_table_names_its_rows_and_columns(folds):
    markup = part("table", key="reels", caption="Reels", table=table(folds=folds))
    assert markup.count('scope="col"') == 3
    assert re.search(r'<th scope="row"[^>]*>\s*<a href="/r/1/">R-1</a>', markup)
    assert ('tabindex="0"' in markup) is not folds


def test_a_folding_table_says_each_word_again():
    markup = part("table", key="reels", caption="Reels", table=table(folds=True))
    assert re.findall(r'data-word="([^"]+)"', markup) == ["Reel", "Length, m", "State"]


def test_cells_are_escaped():
    odd = build_table(columns=["a"], lines=[Line(["<b>"])])
    assert "&lt;b&gt;" in part("table", key="k", caption="c", table=odd)


def test_a_derivation_shows_unrounded_rounding_and_stated():
    item = SimpleNamespace(
        word="K", value="0.332", source="EN 12385-4, Table", confidence="published"
    )
    derivation = SimpleNamespace(
        title="Minimum breaking force",
        stated="84.6 kN",
        unrounded="84.60768 kN",
        rounding="half up to three significant figures",
        formula="K d² Rr / 1000",
        source="",
        inputs=[item],
        notes=[],
    )
    markup = part("derivation", key="mbf", derivation=derivation)
    for said in ("84.6 kN", "84.60768 kN", "half up", "0.332", "EN 12385-4, Table", "published"):
        assert said in markup


@pytest.mark.parametrize(
    ("number", "links"), [(1, ["?a=b&amp;page=2"]), (2, ["?a=b&amp;page=1", "?a=b&amp;page=3"])]
)
def test_pages_of_a_list_keep_the_query(number, links):
    page = Paginator(range(50), 20).page(number)
    markup = part("pagination", page=page, query="a=b&", noun="x")
    *pages, as_csv, as_xlsx = re.findall(r'href="([^"]+)"', markup)
    assert pages == links
    assert (as_csv, as_xlsx) == ("?a=b&amp;format=csv", "?a=b&amp;format=xlsx")


def test_a_list_of_one_page_has_no_pagination():
    page = Paginator(range(5), 20).page(1)
    markup = part("pagination", page=page, query="", noun="reels")
    assert "<nav" not in markup
    assert "All 5 reels of this list as a file" in markup


@pytest.mark.parametrize("name", ["400", "403", "404", "500"])
def test_error_pages_need_nothing(name):
    markup = render_to_string(f"{name}.html")
    assert markup.count("<h1>") == 1
    assert 'href="#main"' in markup


@pytest.mark.parametrize("name", ["empty", "facts", "findings", "sign", "figure"])
def test_parts_hold_no_styles_or_scripts_of_their_own(name):
    source = render_to_string(
        f"parts/_{name}.html",
        {
            "title": "t",
            "text": "x",
            "facts": [],
            "findings": [],
            "shape": "good",
            "key": "k",
            "caption": "c",
            "drawing": "",
            "table": table(folds=False),
            "href": "",
            "action": "",
            "fits": False,
        },
    )
    assert not re.search(r"\sstyle=|<style|<script|\son\w+=", source)


def test_the_way_back_says_where_one_is():
    markup = part("trail", href="/reels/", word="Reels", here="R-0017")
    assert '<a href="/reels/">Reels</a>' in markup
    assert '<li aria-current="page">R-0017</li>' in markup
