CREATE TABLE "corrections" (
	"machine_id" text NOT NULL,
	"log_id" text NOT NULL,
	"site_id" text NOT NULL,
	"id" text NOT NULL,
	"start_s" double precision NOT NULL,
	"end_s" double precision NOT NULL,
	"start_at" timestamp with time zone,
	"end_at" timestamp with time zone,
	"kind" text NOT NULL,
	"author" text,
	"reason" text,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "corrections_machine_id_log_id_id_pk" PRIMARY KEY("machine_id","log_id","id")
);
--> statement-breakpoint
ALTER TABLE "corrections" ADD CONSTRAINT "corrections_machine_id_log_id_logs_machine_id_id_fk" FOREIGN KEY ("machine_id","log_id") REFERENCES "public"."logs"("machine_id","id") ON DELETE cascade ON UPDATE no action;