"""From a recipe that was found to its batch: the mix is kept, the litres are planned."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _

from friable.errors import FriableError
from friable.runs import searches
from friable.web.answers import form_page
from friable.web.finding import work as worked
from friable.web.finding.making import MakeForm, keep_and_plan, suggested
from friable.web.guard import may


@may("plan batches")
def make(request: HttpRequest, key: str) -> HttpResponse:
    """Keep a recipe that was found as a mix, and plan so many litres of it."""
    folder = searches.folder_of(worked.root(), key)
    question = None
    if folder is not None:
        try:
            question = worked.question_of(folder)
        except FriableError:
            folder = None
    if folder is None:
        messages.error(request, _("This search is gone: searches are kept for a day. Ask it again."))
        return redirect("find")
    if request.method == "POST":
        form = MakeForm(request, request.POST)
        if form.is_valid():
            batch = form.act(keep_and_plan, form, question)
            if batch is not None:
                messages.success(request, _("Batch {code} is planned.").format(code=batch.code))
                return redirect("batch-detail", batch.code)
    else:
        form = MakeForm(request, initial=suggested(question, request.GET))
    context = {"form": form, "key": key, "question": question}
    return form_page(request, "finding/make.html", context, form)
